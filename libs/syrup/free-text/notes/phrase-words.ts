import { wordSet } from '../normalize-text.js';

/**
 * Words that the patterns in `note-phrases.ts` name with `@`, without accents and apostrophes, in English and French.
 * From memory.
 */
export const phraseWords = {
  animal: wordSet(
    'terrier beagle collie dog dogs puppy pup hound cat cats kitten kittens mouse mice rat rats rodent rodents squirrel squirrels chipmunk chipmunks raccoon raccoons coon coons skunk porcupine weasel mink bird birds hen hens chicken chickens rooster pigeon pigeons starlings bat bats goat goats pig deer snake frog toad chien chiens chienne chat chats chatte souris ecureuil ecureuils oiseau oiseaux poule poules tamia raton',
  ),
  /** With these an animal is not at the syrup: `mouse traps by the jars`, `dog food`. */
  animalElsewhere: wordSet(
    'trap traps trapped feeder feed fed food bowl chased chasing barked barking watched watching watch proof label labels picture name named drawing seed song dish bed visited greeted kept away cookies biscuits for',
  ),
  insect: wordSet(
    'fly flies ant ants mosquito mosquitoes mosquitos gnat gnats midge midges moth moths bug bugs insect insects spider spiders bee bees wasp wasps hornet hornets yellowjacket yellowjackets beetle beetles ladybug ladybugs earwig earwigs cluster worm worms maggot maggots larva larvae mouche mouches fourmi fourmis moustique moustiques papillon papillons araignee araignees abeille abeilles guepe guepes insecte insectes',
  ),
  insectElsewhere: wordSet(
    'first trap traps swatter fishing rod repellent spray netting screen hive hives season light lights label labels spelling candles',
  ),
  droppings: wordSet('droppings dropping turds turd poop pee urine feces excrement crotte crottes fiente fientes'),
  /** What finished syrup touches, and where it is filled. */
  vessel: wordSet(
    'syrup kettle kettles pan pans pot pots filler bottler canner ladle ladles funnel funnels spigot spigots spout spouts valve jar jars bottle bottles jug jugs can cans lid lids cap caps rim rims filter filters felt felts strainer cone press sirop bocal bocaux bouteille bouteilles bouilloire chaudron casserole entonnoir louche couvercle couvercles filtre filtres',
  ),
  jar: wordSet('jar jars bottle bottles jug jugs glass pints quarts bocal bocaux bouteille bouteilles pots'),
  lid: wordSet('lid lids cap caps couvercle couvercles'),
  sapVessel: wordSet(
    'bucket buckets pail pails tank tanks barrel barrels drum drums tub tubs seau seaux chaudiere chaudieres reservoir bassin',
  ),
  bench: wordSet('bench table counter shelf shelves rack boxes cases crates comptoir etagere'),
  in: wordSet('in into inside on onto under around over through among dans sur'),
  bodily: wordSet(
    'sneezed sneezing sneeze coughed coughing spat spit drooled vomited puked bled bleeding blood sweat saliva snot eternue tousse saigne sang',
  ),
  outdoors: wordSet(
    'wood woods axe saw chainsaw splitting split tapping drill tap taps road snow ice sled sleigh truck tractor fence gate door barn roof stack arch pressure drive saturday office doctor outside',
  ),
  bandage: wordSet('bandaid bandaids bandage bandages pansement pansements glove gloves gant'),
  smallObject: wordSet(
    'earring earrings button hairpin barrette pendant bead lens fingernail stud screw bolt washer clip blade oring gasket battery thumbtack paperclip',
  ),
  gone: wordSet('missing lost gone disappeared vanished perdu perdue'),
  tool: wordSet(
    'spoon spoons spatula paddle ladle ladles whisk scoop skimmer knife blade tongs sieve strainer screen mesh sponge scrubber scourer brush brushes rag cloth cheesecloth stirrer dipper scraper cuillere spatule fouet couteau brosse louche eponge',
  ),
  comingApart: wordSet(
    'splintered splintering splinters splinter chipped chipping snapped shedding shed sheds frayed fraying unravelled unraveled unravelling crumbled crumbling flaking flaked melted melting disintegrated effiloche effilochee fendue',
  ),
  brokenPart: wordSet('tip end piece bit bits edge corner handle tine strand strands bristle bristles wire wires'),
  bristle: wordSet('bristle bristles poils'),
  filter: wordSet('filter filters felt cone bag sock cloth filtre filtres feutre'),
  torn: wordSet('torn tore ripped rip split burst hole holes tear dechire dechiree perce percee troue'),
  notTorn: wordSet('open pack packet new old spare box replaced replacing changed threw patched mended wood'),
  hour: wordSet(
    'hour hours hr hrs min mins minute minutes while bit overnight night day days long longer heure heures nuit moment',
  ),
  wait: wordSet('sat sit sitting stood stand standing waited waiting wait rested attendu attendre repose reposer'),
  capping: wordSet(
    'cap capped capping lidded lidding lid lids caps filled filling fill bottling bottled jarring closing closed fermer ferme boucher bouche bouches remplir rempli',
  ),
  cap: wordSet('cap capped capping lidded lidding cover covered closed close bouche boucher ferme fermer'),
  later: wordSet('later after afterwards next following lendemain'),
  reheated: wordSet(
    'reheated reheat reheating rewarmed heated preheated back again sap settle settled settling drum drums stainless label labels labelled labelling labeling labelled stack stacking stacked boxed boxing moving rack shipped brought rechauffe rechauffes seven rolling turned',
  ),
  hotSource: wordSet(
    'burner burners flame propane gas stove hotplate element heater pilot power electricity canner generator bruleur flamme courant gaz propane rechaud',
  ),
  notFilling: wordSet(
    'truck tractor sled saw chainsaw snowmobile lights light pump vacuum ro pole washed road phone before finished after done full delivered bill tank generator town village',
  ),
  ranOut: wordSet('out died quit failed stopped dead off cut outage lost fail tripped eteint eteinte coupe'),
  syrupHot: wordSet('syrup kettle filler canner pot batch it bouilloire sirop chaudron'),
  cooledWords: wordSet('cooled cooling cold cool refroidi refroidie'),
  cooledFor: wordSet('sample test taste tasting cup hydrometer candy cream density photo room weather cellar'),
  metal: wordSet(
    'copper galvanized galvanised rusty rusted rusting zinc brass pewter aluminium rouille rouilles rouillee galvanise galvanisee cuivre',
  ),
  vesselForSyrup: wordSet(
    'kettle pan pans pot pots pail pails bucket buckets can cans drum drums barrel barrels tank tub filler ladle funnel strainer scoop spoon lid lids caps cap rings jug milkcan chaudron seau seaux chaudiere casserole cuve',
  ),
  metalElsewhere: wordSet(
    'colour color coloured colored sap taps tapped hung hanging roof nails pipe pipes wire fence sign label sunset moon trees retired replaced scrapped outside stand truck sold threw museum decoration kindling ash wood shed',
  ),
  lastYear: wordSet('last previous lan dernier derniere annee'),
  year: wordSet('year years season seasons spring springs passe dernier'),
  notUsed: wordSet('threw tossed thrown out trash away bin recycled dump ordered order sold sell none not never empty'),
  foodOrPaint: wordSet(
    'paint pickles pickle mayonnaise mayo salsa ketchup mustard vinegar milk detergent bleach soap antifreeze oil diesel gas lard honey feed fertilizer chemicals stain varnish peinture cornichons',
  ),
  /** Syrup that a pack’s sources may leave out. */
  otherSyrup: wordSet(
    'leftover leftovers remainder yesterdays yesterday older bought fridge freezer lastyears neighbor neighbors neighbour neighbours uncle aunt cousin cousins hier frigo restes voisin',
  ),
  mix: wordSet(
    'mixed mixing blended blending stirred poured dumped tipped combined topped melange melanges verse ajoute ajoutes added add',
  ),
  instrument: wordSet(
    'thermometer thermometers probe hydrometer hydrometers refractometer thermometre densimetre hydrometre refractometre',
  ),
  dirty: wordSet(
    'sticky dirty gummy crusted sugary smeared fogged foggy cloudy coated scratched unreadable filthy collant sale',
  ),
  confirmed: wordSet(
    'hydrometer refractometer thermometer then agreed agrees confirmed checked too matched same both reading read',
  ),
  notSeal: wordSet('not didnt doesnt wont never havent hasnt wouldnt pas jamais failed fail'),
  seal: wordSet('ping pinged pop popped click clicked seal sealed sealing snap snapped colle'),
  paperSeal: wordSet('road letter wax driveway envelope bag deal cellar gap'),
} as const;

export type PhraseWordList = keyof typeof phraseWords;
