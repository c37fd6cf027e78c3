import { plainText, wordSet } from './plain-words.js';

/**
 * Words of mould, gas and fermentation in free text, English and French. One pass over the words of each clause, in
 * linear time. The words of both languages are from memory. Words denied in the same clause ("no sign of mould", "sans
 * moisissure", "mould: none") are not returned; where the denial isn't clear they are, and somebody is asked.
 */
export type SpoilageSign = 'mould' | 'gas' | 'fermented';
export interface SpoilageWord {
  readonly sign: SpoilageSign;
  /** As it was typed. */
  readonly word: string;
}

/** The words of mould or spoilage in a text, without denied ones. */
export function spoilageIn(text: string): SpoilageWord[] {
  const plain = plainText(text);
  // Most texts contain no such word and need not be split into clauses.
  if (!(plain.match(/\p{L}+/gu) ?? []).some(isMaybeSign)) return [];
  const found = clausesOf(plain).flatMap((clause) =>
    clause.words.flatMap((word, at): SpoilageWord[] => {
      const sign = signAt(clause.words, at);
      return sign && !isDenied(clause, at) ? [{ sign, word }] : [];
    }),
  );
  return [...new Map(found.map((each) => [each.word, each])).values()];
}

/** Whether a clause names a sign of spoilage and denies every one: `no mould`, `aucune moisissure`. */
export const deniesSpoilage = (clause: string): boolean =>
  clausesOf(plainText(clause)).some(({ words }) => words.some((_, at) => signAt(words, at) !== undefined)) &&
  spoilageIn(clause).length === 0;

interface Clause {
  readonly words: readonly string[];
  /** The clause after it, where a colon or a question mark separates them: `mould: none`, `mouldy? no`. */
  readonly answer: readonly string[] | undefined;
}

/** Clauses end at punctuation and at but, though, mais: a denial reaches no further. */
function clausesOf(plain: string): Clause[] {
  const parts: { words: string[]; asks: boolean }[] = [{ words: [], asks: false }];
  for (const [token] of plain.matchAll(/[\p{L}\p{N}]+|[^\p{L}\p{N}\s\-–—/]/gu)) {
    const last = parts.at(-1)!;
    if (/^[\p{L}\p{N}]/u.test(token) && !turns.has(token)) last.words.push(token);
    else if (last.words.length > 0) {
      last.asks = token === ':' || token === '?';
      parts.push({ words: [], asks: false });
    }
  }
  return parts.map(({ words: text, asks }, at) => ({ words: text, answer: asks ? parts[at + 1]?.words : undefined }));
}

/**
 * How many neighbouring words decide a word's meaning; bounded, so that the time doesn't grow with the square of a
 * clause.
 */
const within = 8;

function signAt(text: readonly string[], at: number): SpoilageSign | undefined {
  const [before, word, next] = [text[at - 1] ?? '', text[at] ?? '', text[at + 1] ?? ''];
  if (!isMaybeSign(word)) return undefined;
  const near = (set: ReadonlySet<string>): boolean =>
    text.slice(Math.max(0, at - within), at + within + 1).some((each) => set.has(each));
  if (mouldNouns.has(word)) {
    const cast =
      castIn.has(before) ||
      before === 'into' ||
      (text[at - 2] === 'into' && article.has(before)) ||
      (['for', 'of', 'a'].includes(next) && castIn.has(text[at + 2] ?? '')) ||
      (near(castIn) && near(bought));
    return cast || mouldTools.has(next) ? undefined : 'mould';
  }
  if (word === 'alive' || word === 'living') return near(aliveIn) ? 'mould' : undefined;
  if (word === 'growth') return near(otherGrowth) ? undefined : 'mould';
  if (onSurface.has(before) && colours.has(word) && near(theSurface)) return near(wrappings) ? undefined : 'mould';
  if (word === 'fuzz' || word === 'fuzzy') return near(blurred) ? undefined : 'mould';
  if (mouldWords.has(word) || mouldMisspelt.test(word)) return 'mould';
  if (colours.has(word) && ['in', 'on', 'inside', 'dans', 'sur'].includes(next) && near(inAJar) && near(there))
    return near(wrappings) ? undefined : 'mould';
  if ((word === 'spots' || word === 'specks') && near(there) && !near(wrappings)) return 'mould';
  if (word === 'film' && near(theSyrup) && !near(wrappings)) return 'mould';
  if (films.has(word) && !near(wrappings) && !near(overFire) && !near(skimmed))
    return near(onTop) || (!isAlsoElse.has(word) && (colours.has(before) || colours.has(next))) ? 'mould' : undefined;
  if (
    growing.has(word) &&
    (before === 'something' || text[at - 2] === 'something' || ['on', 'inside', 'under', 'in'].includes(next)) &&
    near(ofAJar)
  )
    return 'mould';
  if (swelling.has(word)) return near(swellsByItself) ? undefined : 'gas';
  if (word === 'bubbling' || word === 'frothing') return near(overFire) ? undefined : 'gas';
  if (gasWords.has(word)) return near(gasElsewhere) ? undefined : 'gas';
  if (word === 'sparkling') return near(likeADrink) ? 'gas' : undefined;
  if (popping.has(word)) return near(ofALid) && near(byItself) ? 'gas' : undefined;
  if (word === 'gas') return near(makesGas) && !near(fuel) && before !== 'of' ? 'gas' : undefined;
  if (souring.has(word)) return near(soursByItself) ? undefined : 'fermented';
  if (fermentWords.has(word))
    return (word === 'rotten' && spoiling.has(before)) || near(fermentedElsewhere) ? undefined : 'fermented';
  if (alcohols.has(word))
    return (['like', 'of', 'comme', 'strong', 'hard', 'de', 'du', 'le', 'la'].includes(before) || tasting.has(next)) &&
      (near(tasting) || text[at - 2] === 'mother')
      ? 'fermented'
      : undefined;
  if (word === 'turned') return ['had', 'has', 'have'].includes(before) && next === '' ? 'fermented' : undefined;
  if (word === 'spat' || word === 'spit') return near(whenOpened) ? 'gas' : undefined;
  if (word === 'tourne') return near(tasting) ? 'fermented' : undefined;
  if (strange.has(word) && turned.has(before)) return 'fermented';
  if (stinking.has(word)) return next === 'bug' || next === 'bugs' ? undefined : 'fermented';
  // `sent` is French for smells and English for posted: “the wrong size was sent”.
  if (amiss.has(word) && near(word === 'wrong' ? tastingWords : tasting)) return 'fermented';
  if (pressing.has(word)) return near(ofALid) || near(whenOpened) ? (near(overFire) ? undefined : 'gas') : undefined;
  if (word === 'lalcool' || word === 'dalcool') return near(tasting) ? 'fermented' : undefined;
  if (word === 'bad' && turned.has(before)) return 'fermented';
  if ((word === 'off' || word === 'bad') && next === '' && onSurface.has(before))
    return near(theSyrup) && !near(switchedOff) ? 'fermented' : undefined;
  if (word === 'off' && wentOff.has(before) && !offElse.has(next)) return near(switchedOff) ? undefined : 'fermented';
  if (spoiling.has(word)) return next === 'rotten' || near(spoiledLabels) ? undefined : 'fermented';
  return undefined;
}

/** Denied where only function words and other signs are between the denial and the word, or right after it. */
function isDenied({ words: text, answer }: Clause, at: number): boolean {
  for (let n = at - 1; n >= Math.max(0, at - within); n--) {
    const word = text[n] ?? '';
    if (denials.has(word)) return !undone.has(text[n + 1] ?? '');
    if (!passedOver.has(word) && signAt(text, n) === undefined) break;
  }
  const after = text[at + 1] ?? '';
  if (['free', 'absent', 'absente'].includes(after)) return true;
  if (after === 'not' && ['seen', 'found', 'there', 'present'].includes(text[at + 2] ?? ''))
    return at + 3 >= text.length;
  if (answers.has(after) && at + 2 >= text.length) return true;
  return at === text.length - 1 && answer !== undefined && answers.has(answer[0] ?? '') && answer.length < 3;
}

const turns = wordSet('but though although mais however');
const mouldNouns = wordSet('mould mold moulds molds');
const mouldWords = wordSet(
  'mouldy moldy mouldier moldier mouldiest moldiest mildew mildewed mildewy fungus fungi fungal furry spore spores moisi moisie moisis moisies moisissure moisissures moisir moisit champignon champignons duveteux cottony velu velue poilu poilue',
);
/** `moldd`, `mouldey`, `moisisure`: a letter too many or too few. */
const mouldMisspelt = /^(?:mou?l+d+e?(?:s|y|iest|ier)?|moiss?iss?ures?)$/u;
/** Nouns for a film on the syrup, where it is on top or under the lid. */
const films = wordSet(
  'film fluff fluffy cotton cottony hairy hair hairs fur scum spot spots speck specks fleck flecks dot dots patch patches skin point layer coating couche stuff cobweb cobwebs web webs thread threads bits plaques pellicule duvet tache taches points peau voile ecume',
);
/** Spots of such a colour raise a question wherever they are; a film or a hair only on the syrup. */
const isAlsoElse = wordSet('film hair hairs skin');
const bought = wordSet('sold bought buy buying sell wanted shape shaped');
const colours = wordSet(
  'green greenish white whitish black blue bluish grey gray pink vert verte vertes verts blanc blanche blanches blancs noir noire noires noirs bleu bleue bleues bleus gris grise rose brown brownish yellow yellowish orange red brun brune jaune rouge',
);
const onTop = wordSet(
  'top surface lid lids rim floating floats floated underside growing dessus couvercle flotte flottent',
);
const aliveIn = wordSet('something things it jar syrup');
const otherGrowth = wordSet('tree trees ring rings season business plan new old personal rate');
const onSurface = wordSet('est is was turned');
const theSurface = wordSet('surface dessus');
const inAJar = wordSet('it jar syrup top pot sirop dessus');
const there = wordSet('was were is something there some had cetait avait');
const wrappings = wordSet(
  'label labels ribbon box paper ink wrap wrapping shrink plastic sleeve camera photo etiquette',
);
/** Other meanings of mould: moulds for sugar and candy, and leaf mould. */
const castIn = wordSet(
  'candy candies leaf leaves chocolate butter sugar cake jelly silicone silicon rubber plastic soap metal heart bear tin',
);
const mouldTools = wordSet('maker makers release tray trays pan pans');
const article = wordSet('the a our my');
const blurred = wordSet('photo photos picture pictures label labels print printed code memory screen logic camera');
const growing = wordSet('growing grows growth grew grown pousse');
const ofAJar = wordSet('something jar jars lid lids top syrup surface rim pot couvercle sirop');
const swelling = wordSet(
  'swollen swelled swelling swells swell swelled gonfle gonfles gonflee gonflees gonflement bombe bombee bombes bombees bombement',
);
const swellsByItself = wordSet(
  'bud buds bourgeon bourgeons brook river stream creek door doors wood finger fingers hand hands ankle knee feet ground',
);
const gasWords = wordSet(
  'bulge bulges bulged bulging bulgy spurt spurts spurted spurting fizz fizzed fizzes fizzing fizzy gassy hiss hissed hisses hissing puffy puffed exploded explose petille petillant petillante petillement carbonated carbonation effervescent effervescente gazeux gazeuse gicle giclee gicler',
);
const gasElsewhere = wordSet(
  'pancake pancakes waffle waffles muffin muffins bread jacket water soda drink drinks lemonade cocktail cocktails flavour flavours flavor flavors taste saveur saveurs',
);
const skimmed = wordSet('skim skims skimmed skimming skimmer ecumer ecumee');
const overFire = wordSet(
  'pan pans cooker canner taffy cup box packing peanuts boil boiled boiling kettle evaporator stove fire candy',
);
const popping = wordSet('popped pops blew burst flew sparkling saute');
const ofALid = wordSet('lid lids cap caps jar couvercle pot');
const byItself = wordSet('off up itself themselves seul seule');
const likeADrink = wordSet('soda champagne beer wine cider biere cidre mousseux');
const makesGas = wordSet('makes made making escaped released inside jar lid jars lids came');
const fuel = wordSet(
  'can cans burner stove tank station pump line bottle truck car propane ran run running ranout generator saw price',
);
const fermentWords = wordSet(
  'ferment ferments fermented fermenting fermentation fermenter fermente fermentee fermentes fermentees yeasty boozy alcoholic cheesy beery cidery vinegary winey rancid rance aigre aigri aigrie suri surie pourri pourrie rotten',
);
const fermentedElsewhere = wordSet('sauce sauces kimchi pickles pickle tea kombucha bread luck kids');
const alcohols = wordSet('alcohol beer wine cider yeast vinegar kombucha biere vin cidre levure alcool vinaigre');
const stinking = wordSet('stinks stink stinky stinking pue puait');
/** Vague words for a smell or taste: something is wrong, and somebody has to ask what. */
const strange = wordSet('funny weird odd strange');
const amiss = wordSet(
  'bad funny weird odd strange wrong foul rank awful acidic acid socks feet cheese bizarre drole mauvaise acide',
);
const pressing = wordSet(
  'domed dome convex bubbles bubbly bulles foam foamy froth frothy mousse pressure pression souleve soulevee',
);
const whenOpened = wordSet('opened opening open ouvre ouvert ouverture rising smelled smells');
const wentOff = wordSet('gone went going smelled smells smelt smell tastes tasted');
const theSyrup = wordSet('it syrup jar sirop');
const switchedOff = wordSet('lid cap power lights light alarm phone electricity heat pump clock party');
const offElse = wordSet('the to on with a my your in at without well');
const tasting = wordSet(
  'taste tastes tasted tasting smell smells smelled smelt smelling reeks odor odour gout goute sent sentait odeur',
);
const tastingWords: ReadonlySet<string> = new Set([...tasting].filter((word) => word !== 'sent'));
const souring = wordSet('sour sourish stringy soured souring slimy slime ropy ropey');
const soursByItself = wordSet('sap cream cherry cherries dough apple apples candy mood ribs sauce pork chicken soup');
const turned = wordSet('went gone turned going goes tourne');
const spoiling = wordSet('gate gatee spoiled spoilt spoilage spoiling');
const spoiledLabels = wordSet('label labels sheet sheets roll print weather dog kids trip');

/** A filter: most words of a text are none of these and need no further check. */
const mayBeSign: ReadonlySet<string> = new Set([
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
    ...[mouldNouns, mouldWords, films, growing, swelling, gasWords, popping],
    ...[souring, fermentWords, alcohols, spoiling, colours, stinking, amiss, pressing],
  ].flatMap((each) => [...each]),
]);
const isMaybeSign = (word: string): boolean =>
  mayBeSign.has(word) || (word.startsWith('mo') && mouldMisspelt.test(word));

const denials = wordSet(
  'no not never without nor neither none free sans pas aucun aucune ni non isnt wasnt arent werent doesnt didnt dont hasnt havent hadnt cannot cant couldnt zero nothing jamais',
);
/** `not only mouldy`, `no doubt mould`, `no longer` deny nothing. */
const undone = wordSet('only just doubt longer wonder question surprise more seulement');
const passedOver = wordSet(
  'taste tastes tasted any sign signs trace traces visible of the a an bit hint or nor and evidence at all yet see saw seen find found smell smelled look looks looked been be is are was were got have has had show shows showing develop developed get getting kind sort single spot spots speck specks noticed notice de d la le les un une du des trace signe signes visible et ou ni vu trouve green white black blue grey gray vert verte blanc blanche noir noire bleu gone going turned went something',
);
const answers = wordSet('no none nil non aucun aucune nothing negative absent');
