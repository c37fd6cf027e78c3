import { wordSet } from './normalize-text.js';

/**
 * Words of mould, gas and fermentation, and the words around them that give them another meaning, in English and
 * French, without accents and apostrophes. From memory.
 */

export const clauseEndWords = wordSet('but though although mais however');
export const mouldNouns = wordSet('mould mold moulds molds');
export const mouldWords = wordSet(
  'mouldy moldy mouldier moldier mouldiest moldiest mildew mildewed mildewy fungus fungi fungal furry spore spores moisi moisie moisis moisies moisissure moisissures moisir moisit champignon champignons duveteux cottony velu velue poilu poilue',
);
/** `moldd`, `mouldey`, `moisisure`: a letter too many or too few. */
export const mouldMisspelt = /^(?:mou?l+d+e?(?:s|y|iest|ier)?|moiss?iss?ures?)$/u;
/** Nouns for a film on the syrup. */
export const filmWords = wordSet(
  'film fluff fluffy cotton cottony hairy hair hairs fur scum spot spots speck specks fleck flecks dot dots patch patches skin point layer coating couche stuff cobweb cobwebs web webs thread threads bits plaques pellicule duvet tache taches points peau voile ecume',
);
/** These raise a question only on the syrup or under the lid; spots of a mould colour raise one anywhere. */
export const filmsOnlyOnSyrup = wordSet('film hair hairs skin');
export const buyingWords = wordSet('sold bought buy buying sell wanted shape shaped');
export const colourWords = wordSet(
  'green greenish white whitish black blue bluish grey gray pink vert verte vertes verts blanc blanche blanches blancs noir noire noires noirs bleu bleue bleues bleus gris grise rose brown brownish yellow yellowish orange red brun brune jaune rouge',
);
export const topWords = wordSet(
  'top surface lid lids rim floating floats floated underside growing dessus couvercle flotte flottent',
);
export const wordsNearAlive = wordSet('something things it jar syrup');
export const otherGrowthWords = wordSet('tree trees ring rings season business plan new old personal rate');
export const isOrTurned = wordSet('est is was turned');
export const surfaceWords = wordSet('surface dessus');
export const jarContentWords = wordSet('it jar syrup top pot sirop dessus');
export const existenceWords = wordSet('was were is something there some had cetait avait');
export const packagingWords = wordSet(
  'label labels ribbon box paper ink wrap wrapping shrink plastic sleeve camera photo etiquette',
);
/** Near these, mould is a mould for candy or sugar, or leaf mould. */
export const castingWords = wordSet(
  'candy candies leaf leaves chocolate butter sugar cake jelly silicone silicon rubber plastic soap metal heart bear tin',
);
export const mouldTools = wordSet('maker makers release tray trays pan pans');
export const articles = wordSet('the a our my');
export const printWords = wordSet(
  'photo photos picture pictures label labels print printed code memory screen logic camera',
);
export const growingWords = wordSet('growing grows growth grew grown pousse');
export const jarAndLidWords = wordSet('something jar jars lid lids top syrup surface rim pot couvercle sirop');
export const swellingWords = wordSet(
  'swollen swelled swelling swells swell swelled gonfle gonfles gonflee gonflees gonflement bombe bombee bombes bombees bombement',
);
export const ordinarySwelling = wordSet(
  'bud buds bourgeon bourgeons brook river stream creek door doors wood finger fingers hand hands ankle knee feet ground',
);
export const gasWords = wordSet(
  'bulge bulges bulged bulging bulgy spurt spurts spurted spurting fizz fizzed fizzes fizzing fizzy gassy hiss hissed hisses hissing puffy puffed exploded explose petille petillant petillante petillement carbonated carbonation effervescent effervescente gazeux gazeuse gicle giclee gicler',
);
export const ordinaryGas = wordSet(
  'pancake pancakes waffle waffles muffin muffins bread jacket water soda drink drinks lemonade cocktail cocktails flavour flavours flavor flavors taste saveur saveurs',
);
export const skimmingWords = wordSet('skim skims skimmed skimming skimmer ecumer ecumee');
export const cookingWords = wordSet(
  'pan pans cooker canner taffy cup box packing peanuts boil boiled boiling kettle evaporator stove fire candy',
);
export const poppingWords = wordSet('popped pops blew burst flew sparkling saute');
export const lidWords = wordSet('lid lids cap caps jar couvercle pot');
export const byItselfWords = wordSet('off up itself themselves seul seule');
export const sparklingDrinks = wordSet('soda champagne beer wine cider biere cidre mousseux');
export const gasReleaseWords = wordSet('makes made making escaped released inside jar lid jars lids came');
export const fuelWords = wordSet(
  'can cans burner stove tank station pump line bottle truck car propane ran run running ranout generator saw price',
);
export const fermentWords = wordSet(
  'ferment ferments fermented fermenting fermentation fermenter fermente fermentee fermentes fermentees yeasty boozy alcoholic cheesy beery cidery vinegary winey rancid rance aigre aigri aigrie suri surie pourri pourrie rotten',
);
export const ordinaryFermentation = wordSet('sauce sauces kimchi pickles pickle tea kombucha bread luck kids');
export const alcoholWords = wordSet(
  'alcohol beer wine cider yeast vinegar kombucha biere vin cidre levure alcool vinaigre',
);
export const stinkingWords = wordSet('stinks stink stinky stinking pue puait');
/** Vague words for a smell or taste: they raise a question. */
export const strangeWords = wordSet('funny weird odd strange');
export const wrongSmellWords = wordSet(
  'bad funny weird odd strange wrong foul rank awful acidic acid socks feet cheese bizarre drole mauvaise acide',
);
export const pressureWords = wordSet(
  'domed dome convex bubbles bubbly bulles foam foamy froth frothy mousse pressure pression souleve soulevee',
);
export const openingWords = wordSet('opened opening open ouvre ouvert ouverture rising smelled smells');
export const wordsBeforeOff = wordSet('gone went going smelled smells smelt smell tastes tasted');
export const syrupWords = wordSet('it syrup jar sirop');
export const switchableThings = wordSet('lid cap power lights light alarm phone electricity heat pump clock party');
export const wordsAfterOff = wordSet('the to on with a my your in at without well');
export const tasteWords = wordSet(
  'taste tastes tasted tasting smell smells smelled smelt smelling reeks odor odour gout goute sent sentait odeur',
);
export const englishTasteWords: ReadonlySet<string> = new Set([...tasteWords].filter((word) => word !== 'sent'));
export const souringWords = wordSet('sour sourish stringy soured souring slimy slime ropy ropey');
export const ordinarySourness = wordSet(
  'sap cream cherry cherries dough apple apples candy mood ribs sauce pork chicken soup',
);
export const becomingWords = wordSet('went gone turned going goes tourne');
export const spoilingWords = wordSet('gate gatee spoiled spoilt spoilage spoiling');
export const otherSpoiledThings = wordSet('label labels sheet sheets roll print weather dog kids trip');

/** Words that may be a sign, checked first: most words of a text are none of these. */
const possibleSigns: ReadonlySet<string> = new Set([
  ...[
    'fuzz',
    'fuzzy',
    'gas',
    'bad',
    'off',
    'bubbling',
    'lalcool',
    'dalcool',
    'turned',
    'tourne',
    'spat',
    'spit',
    'frothing',
    'alive',
    'living',
  ],
  ...[
    ...[mouldNouns, mouldWords, filmWords, growingWords, swellingWords, gasWords, poppingWords],
    ...[
      souringWords,
      fermentWords,
      alcoholWords,
      spoilingWords,
      colourWords,
      stinkingWords,
      wrongSmellWords,
      pressureWords,
    ],
  ].flatMap((each) => [...each]),
]);
/** Whether a normalized word may be a sign of spoilage, depending on the words around it. */
export const isPossibleSign = (word: string): boolean =>
  possibleSigns.has(word) || (word.startsWith('mo') && mouldMisspelt.test(word));

export const negations = wordSet(
  'no not never without nor neither none free sans pas aucun aucune ni non isnt wasnt arent werent doesnt didnt dont hasnt havent hadnt cannot cant couldnt zero nothing jamais',
);
/** `not only mouldy`, `no doubt mould`, `no longer` negate nothing. */
export const notNegatedBefore = wordSet('only just doubt longer wonder question surprise more seulement');
export const skippedWords = wordSet(
  'taste tastes tasted any sign signs trace traces visible of the a an bit hint or nor and evidence at all yet see saw seen find found smell smelled look looks looked been be is are was were got have has had show shows showing develop developed get getting kind sort single spot spots speck specks noticed notice de d la le les un une du des trace signe signes visible et ou ni vu trouve green white black blue grey gray vert verte blanc blanche noir noire bleu gone going turned went something',
);
export const negativeAnswers = wordSet('no none nil non aucun aucune nothing negative absent');
