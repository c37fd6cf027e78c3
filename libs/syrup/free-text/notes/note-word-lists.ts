import { wordSet } from '../normalize-text.js';

/** Words of notes in English and French, without accents and apostrophes, for the detectors beside this file. From memory. */

/** What is put into syrup to flavour it. Butter, cream, oil and sugar are left out: they are defoamers and sap. */
export const ingredients = wordSet(
  [
    'vanilla cinnamon ginger gingerroot nutmeg clove cloves cardamom cardamon anise allspice turmeric saffron spice spices herb herbs',
    'pepper peppers peppercorn peppercorns chili chilis chilies chilli chile chiles jalapeno jalapenos habanero habaneros chipotle cayenne',
    'coffee espresso chai lavender rosemary thyme mint sage basil hops hemp cbd ginseng chaga mushrooms garlic bacon salt',
    'cocoa cacao chocolate honey molasses agave glucose stevia lemon lemons lime limes orange oranges citrus zest fruit',
    'berries blueberry blueberries raspberry raspberries strawberry strawberries cranberry cranberries blackberries elderberry elderberries',
    'apple apples cherry cherries peach peaches pear pears fig figs raisins dates pumpkin coconut nuts walnut walnuts pecan pecans hazelnut hazelnuts almond almonds peanuts',
    'bourbon bourbons whiskey whisky rum brandy scotch cognac vodka tequila liqueur amaretto sherry flavoring flavouring flavorings flavourings extract extracts essence',
    'vanille cannelle gingembre piment piments cafe lavande menthe thym romarin ail sel miel citron orange pomme pommes cerises bleuets framboises fraises canneberges noix noisettes amandes pacanes rhum epices epice erables',
  ].join(' '),
);
/** Spirits, woods and ageing: a barrel near them flavours the syrup, unlike a steel one. */
export const agedIn = wordSet(
  'bourbon bourbons whiskey whisky rum rhum rye brandy scotch cognac tequila sherry wine port oak chene wood wooden charred toasted distillery aged aging ageing matured maturing vieilli vieillie weeks months semaines mois',
);
export const barrels = wordSet('barrel barrels cask casks keg kegs barrique barriques baril barils fut futs');
export const ageing = wordSet('aged aging ageing matured vieilli vieillie');
export const infusing = wordSet(
  'spiced infused infusing infusion steeped steeping macerated macerating infuse infusee infuses spiked laced flavored flavoured aromatise aromatisee',
);
export const ingredientForms = wordSet(
  'bean beans piece pieces stick sticks pod pods slice slices peel peels zest chips powder flakes extract essence syrup barrel barrels cask casks batch version twist sprig sprigs leaf leaves root roots flavored flavoured infused spiced gousse gousses baton batons morceaux shot shots splash dash pinch touch bit spoonful drops cubes staves spiral',
);
/** A clause of only these and an ingredient names a flavoured batch: `the hot pepper batch`, `a little cinnamon`. */
export const besideIngredient = wordSet(
  'the a an some little bit of hot dried fresh whole ground two three one few more plus and with le la les de du des un une peu avec',
);
/** After an ingredient these make it something else: `apple wood`, `ginger ale`, `honey coloured`. */
export const notIngredient = wordSet(
  'wood tree trees grove groves orchard orchards bush blossom blossoms fire log logs street road hill lane farm ale beer cat dog horse mare pup kitten cake cakes pie pies cup cups cider tea wine break pot cookies doughnut doughnuts donuts pancakes bread colour color coloured colored red sunset condition house shed lot truck helped washed arch stove',
);
export const alsoNames = wordSet('ginger rosemary basil sage brandy honey pepper cherry sherry olive clove mint');
/** People, meals and sales: an ingredient near them is not in the syrup, unless it was put in. */
export const awayFromSyrup = wordSet(
  'crew candy fudge cookies breakfast lunch supper dinner pancake pancakes waffles doughnuts donuts muffins drank drink drinks drinking ate eat eating sold sell distillery brewery bakery customer customers buyer asked asks wants wanted order ordered visitors afterwards dejeuner diner client',
);
export const putIn = wordSet(
  'put dropped drop threw throw tossed toss stirred stir poured pour dissolved sprinkled sprinkle seasoned sweetened sweeten finished soaked simmered boiled cooked mixed blended cut mis jete verse',
);
export const tasteWords = wordSet(
  'smell smells smelled smelt smelling odor odors odour odours nose whiff aroma aromas scent taste tastes tasted tasting tang aftertaste flavor flavour flavors flavours hint hints note notes gout goute goutait odeur sent sentait arome',
);

/** What holds finished syrup; sap’s buckets and tanks are in `sapVessels`. */
export const vessels = wordSet(
  'it them syrup jar jars bottle bottles jug jugs can cans kettle pan pans pot pots canner filler bottler ladle spigot funnel batch each every half lid lids cap caps sirop bocal bocaux bouilloire bouteille bouteilles casserole couvercle couvercles',
);
export const intoWords = wordSet('in into inside within through dans');
/** What holds sap: chemicals are foreign matter there too. */
export const sapVessels = wordSet('sap tank tanks bucket buckets tubing eau');
export const chemicals = wordSet(
  'paint rust oil grease solder soap bleach detergent diesel kerosene gasoline antifreeze lubricant solvent varnish cleaner sanitizer caulk silicone peinture rouille huile graisse savon javel mazout',
);
export const particles = wordSet(
  'flake flakes sawdust bits pieces chip chips enamel something dirt mud soot dust ash ashes cinder cinders gravel plaster insulation lint fibre fibres fiber fibers string thread tape splinter splinters sliver slivers shard shards shavings filings screw bolt nail washer wire staple pin needle gasket rubber plastic metal button coin bandaid hair hairs feather feathers bark twig twigs leaf leaves moth moths fly flies bug bugs insect insects ant ants spider spiders bee bees wasp wasps beetle beetles ladybug ladybugs mouse mice rat droppings bird cobweb cobwebs cloth paper glass specks debris mouche mouches insecte insectes ecorce terre poussiere cheveu cheveux plastique metal verre eclats',
);
/** After a material these make it something else: `ash pan`, `oil tank`, `mud season`, `glass jars`. */
export const notMatter = wordSet(
  'pan coloured colored colour color red brown green fired free change burner tank heat heater road roads season pump house wood fire net jar jars bottle bottles cap caps lid lids bottled towel towels',
);
export const enteringVerbs = wordSet(
  'fell fallen dropped dripped drips dripping leaked leaking got went gone blew blown landed flaked flaking peeled peeling chipped came coming melted tombe tombee tombes',
);
export const overVessel = wordSet('off from above over');
export const defoaming = wordSet(
  'foam foaming foamed defoam defoamer canola sunflower safflower vegetable olive mousse',
);

export const offWords = wordSet(
  'off odd funny weird strange bad wrong foul musty metallic burnt burned scorched chemical plastic plasticky rubbery soapy bitter fishy stale rancid smoky smokey buddy skunky harsh nasty bizarre drole brule brulee metallique amer amere mauvais mauvaise',
);
export const skippedBeforeOff = wordSet(
  'a bit little slightly kind of sort very somewhat quite rather just real really too maybe was is were seems seemed had still also tad touch un peu de le la du',
);
export const notAfterOff = wordSet('to the charts with at');
export const buddyBefore = wordSet('bit little slightly getting going turning gone went is was quite very');
export const buddyAfter = wordSet('sap run batch syrup season');
export const goodWords = wordSet('right normal nice good clean');
export const badComparisons = wordSet(
  'plastic metal paint thinner rubber soap bleach chlorine fuel diesel gas kerosene chemicals rust tin pennies smoke ash cardboard earth dirt mushroom fish garlic onion onions cleaner plastique metal savon javel brule',
);
/** Comparisons that are no fault, besides `goodComparisons` of customers. */
export const alsoGoodComparisons = wordSet(
  'butter popcorn marshmallow marshmallows cotton chocolate nuts cream coffee cinnamon bread cookies holiday christmas rain snow fudge molasses years before should it good a',
);
export const smokeOutside = wordSet('sugarhouse air wood fire outside chimney stack arch house woods');

export const coldWords = wordSet(
  'cold cool cooled cooling lukewarm tepid chilly froid froide froids froides tiede tiedes refroidi refroidis refroidie',
);
export const onlyWarm = wordSet('only just barely merely hardly luke');
export const weather = wordSet(
  'night nights morning day evening weather outside out wind air hands fingers cellar room rooms storage water sap run snap spell front spring place this enough',
);
export const coldSubjects = wordSet('room sugarhouse weather outside night morning hands wind shed cellar air evening');
export const connectors = wordSet('when before while by as until at quand avant lors a');
export const thenWords = wordSet('then and puis et');
export const cappingWords = wordSet(
  'capped capping cap lidded lids lid closed closing filled filling fill poured packed packing bottled bottling canned fermeture ferme fermes remplissage remplis embouteille',
);
export const filledWords = wordSet(
  'filled capped packed bottled poured canned jarred lidded remplis embouteille fermes',
);
export const jarWords = wordSet('jar jars bottle bottles jug jugs glass pot pots bocal bocaux');
export const skippedAfterFilled = wordSet(
  'them it the last first row few some ones a bit too while when still rather only just barely jars bottles les half',
);
export const skippedBeforeColdJar = wordSet('were was are still too a bit so quite etaient trop encore');
export const warmedJars = wordSet(
  'warm warmed preheated heated oven scalded reheated hot warming morning overnight today rack labelled labeled stacked boxed stored shipped rechauffe',
);
export const quantityWords = wordSet(
  'jar jars bottle bottles pint pints quart quarts half oz ml fl gal gallon gallons',
);

export const instruments = wordSet(
  'thermometer thermometers thermo probe probes hydrometer hydrometers refractometer refractometers thermometre thermometres hydrometre densimetre refractometre',
);
export const otherInstrument = wordSet('outdoor outside stack porch oven barn window flue meat fever wall');
export const faultWords = wordSet(
  'funny off broken broke stuck wrong jumps jumping jumped erratic dead dying flickering drifting drifts slow suspect weird strange odd cracked chipped slipped fogged unreliable questionable acting bad inaccurate dropped fell doubt doubtful disagree disagreed differ differs different faulty whack died calibrating calibration high low brise brisee casse cassee fausse faux',
);
export const wordsBeforeHighOrLow = wordSet('read reads reading degrees degree battery deg');
export const readingWords = wordSet('temp temps temperature temperatures reading readings density brix lectures');
export const guessWords = wordSet(
  'guess guesses guessed guessing estimate estimates estimated doubtful unsure wrong inaccurate devine',
);
export const forecast = wordSet('tomorrow weather night tonight outside forecast week outdoor');
export const withoutWords = wordSet('no without forgot lost missing sans');
export const trouble = wordSet('trouble problem problems issue issues changes change');
export const testCup = wordSet('cup tube cylinder sample canister');

export const waterWords = wordSet('water eau leau rain condensate condensation snow');
export const adding = wordSet(
  'added add adding ajoute ajoutee splash dash drop cup cups quart pint bit little topped mixed poured put thin thinned thinning density dilute cut',
);
export const waterElsewhere = wordSet(
  'horses horse cattle cows jacket bath trough boiler radiator trees garden rinse rinsed rinsing wash washed washing bucket buckets house heater thermometer check checked checking ice flood flooded pans trailer truck stove steam',
);
export const warmingJars = wordSet('warm warmed preheat preheated heat heated scald scalded warming rinsed');
export const wetWords = wordSet('wet damp mouille mouilles');
export const wetElsewhere = wordSet('snow boots wood outside dried day weather dry');
export const forestWords = wordSet('bush sugarbush woods trees stand maples saplings crown taps forest lot');
export const notSyrup = wordSet('bleach vinegar sanitizer cleaner soap chlorine iodophor');

/** Verbs between jars and an ingredient: `half of these have pecans`. */
export const havingWords = wordSet('have has got gets contain contains');
export const someJars = wordSet('these some half dozen jar jars one ones last batch each kettle');
/** Verbs for something that fell or dripped into the syrup. */
export const droppingVerbs = wordSet(
  'fell fallen dropped drop drops dripped drips dripping leaked leaks leaking blew blown melted floating floated landed tombe tombee',
);
export const ordinarySubjects = wordSet(
  'sap syrup foam temperature temp level butter cream oil hydrometer thermometer probe refractometer sample density it water steam defoamer',
);
export const lostWords = wordSet('missing lost gone');
export const onLids = wordSet('lid lids cap caps rim rims spigot ladle funnel');
export const soiling = wordSet('dirt dust soot mud rust oil grease paint soap poussiere rouille');
export const outsideWords = wordSet('truck tractor roof door arch sign shed sled barn stack floor fence gate road old');
export const looseBits = wordSet('chips flakes specks drops bits flecks shavings chip flake');
/** Syrup or jars that were not hot: `the last dozen were lukewarm`. */
export const coldThings = wordSet(
  'jar jars bottles dozen few last some ones row case syrup kettle half them these those sirop',
);
export const notHotEnough = wordSet('lukewarm tepid tiede tiedes');
export const coldDrink = wordSet('water coffee tea sap cocoa soup cider');
export const becomingWords = wordSet('went was were got gone turned getting is had sat');
export const temperatureOf = wordSet('syrup kettle temperature temp jar jars filler last reading it');
export const limitWords = wordSet('temperature temp limit');
export const downOrThick = wordSet('down stretched thick heavy loosened it syrup');
export const fullWords = wordSet('filled full pan pans tank ran running');
export const skippedBeforeWater = wordSet('water bit drop little much any leau');
