import { clausesOf, isNegated, maxDistance } from './clauses.js';
import { wordSet } from './normalize-text.js';

/**
 * Finds words of harm in a buyer's text, English or French, each once: somebody was ill, something was in the syrup, it
 * tastes of a chemical. Harm negated directly ("no glass", "nobody was ill") is left out; with any other word between
 * ("nobody noticed the glass") it is returned, and a question is raised. Linear in the text's length: each word is judged
 * with a few words around it. The word lists are from memory.
 */
export function findHarm(text: string): string[] {
  const found = clausesOf(text).flatMap((words) =>
    words.filter((_, at) => isHarm(words, at) && !isNegated(words, at, skippedBeforeHarm)),
  );
  return [...new Set(found)];
}

/** Finds words in a pack's note for glass or a jar that broke: splinters may be in the jars beside it. Words from memory. */
export function findBrokenGlass(note: string): string[] {
  const found = clausesOf(note).flatMap((words) =>
    words.filter((word, at) => {
      if (!breakingWords.has(word)) return false;
      const isNearGlass = words.slice(Math.max(0, at - 4), at + 5).some((each) => glassWords.has(each));
      return (isNearGlass || countWords.has(words[at - 1] ?? '')) && !isNegated(words, at, skippedBeforeBreaking);
    }),
  );
  return [...new Set(found)];
}
const breakingWords = wordSet(
  'broke broken cracked shattered smashed exploded burst casse cassee casses brise brisee eclate fendu',
);
const glassWords = wordSet('glass jar jars verre pot pots bocal bocaux');
/** `one burst`, `deux casses`: jars, in a note about jars. */
const countWords = wordSet('one another two three some several une deux trois');
/** `none of the jars broke` is negated. */
const skippedBeforeBreaking = new Set([...glassWords, 'of', 'the', 'these', 'those', 'them', 'des']);

function isHarm(words: readonly string[], at: number): boolean {
  const [before, word, next] = [words[at - 1] ?? '', words[at] ?? '', words[at + 1] ?? ''];
  const isNearby = (some: ReadonlySet<string>): boolean =>
    words.slice(Math.max(0, at - maxDistance), at + maxDistance + 1).some((each) => some.has(each));
  if (word === 'sick') return next !== 'of' && !(next === 'with' && emotions.has(words[at + 2] ?? ''));
  if (word === 'hospital') return !['gift', 'staff', 'shop', 'fair', 'fundraiser', 'auction', 'bazaar'].includes(next);
  if (word === 'er') return before === 'the';
  if (word === 'emergency') return next === 'room' || next === 'department';
  if (bellyWords.has(word)) return isNearby(acheWords);
  if (toothWords.has(word)) return isNearby(toothBreakingWords);
  if (word === 'cut' || word === 'coupe') return isNearby(mouthWords);
  if (word === 'ill')
    return (
      !(next === 'at' && words[at + 2] === 'ease') &&
      !['fitting', 'fitted', 'be', 'have', 'take', 'come', 'buy', 'never', 'order'].includes(next)
    );
  // Somebody allergic to nuts asks before eating; somebody who reacted to this syrup has eaten it.
  if (allergicWords.has(word))
    return isNearby(reactionWords) || !(allergyPrepositions.has(next) && !thisSyrupWords.has(words[at + 2] ?? ''));
  if (word === 'runs') return before === 'the' && isNearby(havingWords);
  if (tinglingWords.has(word)) return isNearby(mouthWords);
  if (word === 'hard' || word === 'sharp') return words.slice(Math.max(0, at - 4), at).includes('something');
  if (metals.has(word) && isNearby(tasteWords)) return true;
  if (swellingWords.has(word)) return isNearby(mouthWords) || isNearby(faceWords);
  if (illness.has(word)) return true;
  if (word === 'up') return ['threw', 'throwing', 'throw'].includes(before);
  if (containerMaterials.has(word)) return !containerWords.has(next) && (isPieceOf(words, at) || isInFood(words, at));
  if (objects.has(word) || (word === 'band' && next === 'aid'))
    return (
      !possessives.has(before) &&
      (words.length <= 3 ||
        vermin.has(word) ||
        isNearby(findingWords) ||
        isAnywhereInFood(words, at) ||
        (materials.has(word) && isPieceOf(words, at)))
    );
  return chemicals.has(word) && isNearby(tasteWords);
}

/** `piece of glass`, `glass chip`, `éclat de verre`. */
const isPieceOf = (words: readonly string[], at: number): boolean =>
  pieces.has(words[at - 1] ?? '') ||
  (pieces.has(words[at - 2] ?? '') && ofWords.has(words[at - 1] ?? '')) ||
  (pieces.has(words[at + 1] ?? '') && !notPieceAfter.has(words[at + 1] ?? ''));

/** `glass in the syrup`, `verre dans le pot`. */
const isInFood = (words: readonly string[], at: number): boolean =>
  ['in', 'inside', 'dans'].includes(words[at + 1] ?? '') &&
  words.slice(at + 2, at + 7).some((each) => foodWords.has(each));

/** The same within a few words: `a screw was in my coffee`, `in the jar was a fly`. */
const isAnywhereInFood = (words: readonly string[], at: number): boolean =>
  words.some((_, n) => Math.abs(n - at) <= maxDistance && isInFood(words, n - 1));

const illness = wordSet(
  'sickness sickened illness unwell queasy fever cramps vomit vomits vomited vomiting puke puked puking barfed nausea nauseous nauseated diarrhea diarrhoea diarreah squits stomachache poison poisoned poisoning botulism rash choke choked choking anaphylaxis anaphylactic hives fievre crampes etouffe etouffee malade malades vomi vomir vomit vomissements nausee nausees diarrhee hopital indigestion indigestions gastro intoxication intoxique empoisonne empoisonnement urticaire',
);
/** Materials of jars and lids: harm only in the syrup or as a piece. */
const containerMaterials = wordSet('glass metal plastic verre plastique');
const containerWords = wordSet('jar jars bottle bottles lid lids cap caps jug jugs tin tins container containers top');
const pieces = wordSet(
  'piece pieces bit bits chip chips shard shards sliver slivers splinter splinters fragment fragments shaving shavings filing filings flake flakes film chunk chunks broken something morceau morceaux eclat eclats debris brise',
);
const notPieceAfter = wordSet('broken something brise');
const materials = wordSet('foil wood rubber bone stone string thread caoutchouc bois');
const ofWords = wordSet('of de du');
const foodWords = wordSet(
  'syrup jar jars bottle jug it mouth teeth food pancake pancakes waffle coffee tea oatmeal cup spoon plate sirop pot pots bouche',
);
const objects = wordSet(
  'sliver slivers foil clip clips tick ticks shard shards splinter splinters screw nail nails staple staples wire hair hairs insect insects bug bugs fly flies ant ants wasp bee bees moth beetle spider spiders worm worms maggot maggots larva larvae roach roaches cockroach mouse mice rat rodent droppings stone stones pebble bolt washer needle pin pins bone wood rubber bois string thread feather bandaid eclats vis clou agrafe cheveu cheveux poil insecte insectes araignee mouche mouches fourmi fourmis asticot asticots caillou cailloux souris caoutchouc pansement',
);
const possessives = wordSet('my her his our their your mes ses tes nos vos');
const vermin = wordSet('worm worms maggot maggots larva larvae roach roaches cockroach asticot asticots');
const findingWords = wordSet('found inside swallowed bit teeth mouth bottom dedans trouve avale dents bouche fond');
const chemicals = wordSet(
  'bleach bleachy chlorine detergent soap soapy disinfectant cleaner ammonia ammoniac turpentine antifreeze gas fuel diesel petrol gasoline kerosene solvent paint chemical chemicals rust rusty javel savon mazout peinture chimique chimiques rouille',
);
const tasteWords = wordSet(
  'taste tastes tasted tasting smell smells smelled smelt reeks flavor flavour gout goute sent odeur',
);
const tinglingWords = wordSet('tingled tingling tingly numb numbness itchy itching itched closed picote picotait');
const metals = wordSet('metal metallic metallique');
const allergicWords = wordSet('allergic allergique allergiques');
const reactionWords = wordSet(
  'reaction reactions reacted reaccion hives rash swelled swollen itch itchy itching reagi',
);
const allergyPrepositions = wordSet('to a au aux');
const thisSyrupWords = wordSet('it this your the something that ce votre');
const havingWords = wordSet('got had has have gave getting');
const swellingWords = wordSet('swelled swollen swelling swell enfle enflee enfles enflees gonfle gonflee gonflees');
const faceWords = wordSet('face eyes eye cheeks gorge visage yeux');
const emotions = wordSet('envy love jealousy delight excitement');
const bellyWords = wordSet('stomach tummy belly gut ventre coeur estomac');
const acheWords = wordSet('ache aches ached upset pain pains hurt hurts cramp cramps bug mal douleur douleurs');
const toothWords = wordSet('tooth teeth molar crown denture dentures dent dents');
const toothBreakingWords = wordSet('chipped chip broke broken cracked casse cassee');
const mouthWords = wordSet('lip lips mouth tongue gum gums throat levre levres bouche langue');
/** A negation applies across these: `no glass or metal`, `not sick or ill`, `no bits of glass`. */
const skippedBeforeHarm = new Set([
  ...illness,
  ...containerMaterials,
  ...objects,
  ...chemicals,
  ...tasteWords,
  ...pieces,
  'sick',
  'ill',
  'like',
]);
