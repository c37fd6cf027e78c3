import { clausesOf, isDenied, near } from './clauses.js';
import { wordSet } from './plain-words.js';

/**
 * Words of harm in a buyer's text, English and French: somebody was ill, something was in the syrup, it tastes of a
 * chemical. Harm that is denied directly ("no glass", "nobody was ill") is not returned; with any other word between
 * ("nobody noticed the glass") it is, and a question is raised. One pass over the words, each looking at a few words around it. The words of both languages are from memory.
 */
export function harmIn(text: string): string[] {
  const found = clausesOf(text).flatMap((words) =>
    words.filter((_, at) => isHarm(words, at) && !isDenied(words, at, harmful)),
  );
  return [...new Set(found)];
}

/** Phrases in a pack's note about glass or a broken jar: splinters may be in the jars beside it. Words from memory. */
export function brokenIn(note: string): string[] {
  const found = clausesOf(note).flatMap((words) =>
    words.filter((word, at) => {
      if (!breaks.has(word)) return false;
      const isNearGlass = words.slice(Math.max(0, at - 4), at + 5).some((each) => glass.has(each));
      return (isNearGlass || oneOfThem.has(words[at - 1] ?? '')) && !isDenied(words, at, glassOrDetermined);
    }),
  );
  return [...new Set(found)];
}
const breaks = wordSet(
  'broke broken cracked shattered smashed exploded burst casse cassee casses brise brisee eclate fendu',
);
const glass = wordSet('glass jar jars verre pot pots bocal bocaux');
/** `one burst`, `deux casses`: jars, in a note about jars. */
const oneOfThem = wordSet('one another two three some several une deux trois');
/** `none of the jars broke` denies it. */
const glassOrDetermined = new Set([...glass, 'of', 'the', 'these', 'those', 'them', 'des']);

function isHarm(words: readonly string[], at: number): boolean {
  const [before, word, next] = [words[at - 1] ?? '', words[at] ?? '', words[at + 1] ?? ''];
  const around = (some: ReadonlySet<string>): boolean =>
    words.slice(Math.max(0, at - near), at + near + 1).some((each) => some.has(each));
  if (word === 'sick') return next !== 'of' && !(next === 'with' && fond.has(words[at + 2] ?? ''));
  if (word === 'hospital') return !['gift', 'staff', 'shop', 'fair', 'fundraiser', 'auction', 'bazaar'].includes(next);
  if (word === 'er') return before === 'the';
  if (word === 'emergency') return next === 'room' || next === 'department';
  if (belly.has(word)) return around(aching);
  if (teeth.has(word)) return around(breaking);
  if (word === 'cut' || word === 'coupe') return around(mouth);
  if (word === 'ill')
    return (
      !(next === 'at' && words[at + 2] === 'ease') &&
      !['fitting', 'fitted', 'be', 'have', 'take', 'come', 'buy', 'never', 'order'].includes(next)
    );
  // Somebody allergic to nuts asks before eating; somebody who reacted to this syrup has eaten it.
  if (allergic.has(word)) return around(reacting) || !(toWhat.has(next) && !thisSyrup.has(words[at + 2] ?? ''));
  if (word === 'runs') return before === 'the' && around(gotIt);
  if (tingling.has(word)) return around(mouth);
  if (word === 'hard' || word === 'sharp') return words.slice(Math.max(0, at - 4), at).includes('something');
  if (metals.has(word) && around(tasting)) return true;
  if (swelling.has(word)) return around(mouth) || around(face);
  if (illness.has(word)) return true;
  if (word === 'up') return ['threw', 'throwing', 'throw'].includes(before);
  if (containerMaterials.has(word)) return !vessels.has(next) && (isPieceOf(words, at) || isInFood(words, at));
  if (objects.has(word) || (word === 'band' && next === 'aid'))
    return (
      !whose.has(before) &&
      (words.length <= 3 ||
        vermin.has(word) ||
        around(found) ||
        isAnywhereInFood(words, at) ||
        (materials.has(word) && isPieceOf(words, at)))
    );
  return chemicals.has(word) && around(tasting);
}

/** `piece of glass`, `glass chip`, `éclat de verre`. */
const isPieceOf = (words: readonly string[], at: number): boolean =>
  pieces.has(words[at - 1] ?? '') ||
  (pieces.has(words[at - 2] ?? '') && of.has(words[at - 1] ?? '')) ||
  (pieces.has(words[at + 1] ?? '') && !isNoPiece.has(words[at + 1] ?? ''));

/** `glass in the syrup`, `verre dans le pot`. */
const isInFood = (words: readonly string[], at: number): boolean =>
  ['in', 'inside', 'dans'].includes(words[at + 1] ?? '') && words.slice(at + 2, at + 7).some((each) => food.has(each));

/** The same within a few words: `a screw was in my coffee`, `in the jar was a fly`. */
const isAnywhereInFood = (words: readonly string[], at: number): boolean =>
  words.some((_, n) => Math.abs(n - at) <= near && isInFood(words, n - 1));

const illness = wordSet(
  'sickness sickened illness unwell queasy fever cramps vomit vomits vomited vomiting puke puked puking barfed nausea nauseous nauseated diarrhea diarrhoea diarreah squits stomachache poison poisoned poisoning botulism rash choke choked choking anaphylaxis anaphylactic hives fievre crampes etouffe etouffee malade malades vomi vomir vomit vomissements nausee nausees diarrhee hopital indigestion indigestions gastro intoxication intoxique empoisonne empoisonnement urticaire',
);
/** Materials of jars and lids: harmful in the syrup, harmless in a sentence about a jar. */
const containerMaterials = wordSet('glass metal plastic verre plastique');
const vessels = wordSet('jar jars bottle bottles lid lids cap caps jug jugs tin tins container containers top');
const pieces = wordSet(
  'piece pieces bit bits chip chips shard shards sliver slivers splinter splinters fragment fragments shaving shavings filing filings flake flakes film chunk chunks broken something morceau morceaux eclat eclats debris brise',
);
const isNoPiece = wordSet('broken something brise');
const materials = wordSet('foil wood rubber bone stone string thread caoutchouc bois');
const of = wordSet('of de du');
const food = wordSet(
  'syrup jar jars bottle jug it mouth teeth food pancake pancakes waffle coffee tea oatmeal cup spoon plate sirop pot pots bouche',
);
const objects = wordSet(
  'sliver slivers foil clip clips tick ticks shard shards splinter splinters screw nail nails staple staples wire hair hairs insect insects bug bugs fly flies ant ants wasp bee bees moth beetle spider spiders worm worms maggot maggots larva larvae roach roaches cockroach mouse mice rat rodent droppings stone stones pebble bolt washer needle pin pins bone wood rubber bois string thread feather bandaid eclats vis clou agrafe cheveu cheveux poil insecte insectes araignee mouche mouches fourmi fourmis asticot asticots caillou cailloux souris caoutchouc pansement',
);
const whose = wordSet('my her his our their your mes ses tes nos vos');
const vermin = wordSet('worm worms maggot maggots larva larvae roach roaches cockroach asticot asticots');
const found = wordSet('found inside swallowed bit teeth mouth bottom dedans trouve avale dents bouche fond');
const chemicals = wordSet(
  'bleach bleachy chlorine detergent soap soapy disinfectant cleaner ammonia ammoniac turpentine antifreeze gas fuel diesel petrol gasoline kerosene solvent paint chemical chemicals rust rusty javel savon mazout peinture chimique chimiques rouille',
);
const tasting = wordSet(
  'taste tastes tasted tasting smell smells smelled smelt reeks flavor flavour gout goute sent odeur',
);
const tingling = wordSet('tingled tingling tingly numb numbness itchy itching itched closed picote picotait');
const metals = wordSet('metal metallic metallique');
const allergic = wordSet('allergic allergique allergiques');
const reacting = wordSet('reaction reactions reacted reaccion hives rash swelled swollen itch itchy itching reagi');
const toWhat = wordSet('to a au aux');
const thisSyrup = wordSet('it this your the something that ce votre');
const gotIt = wordSet('got had has have gave getting');
const swelling = wordSet('swelled swollen swelling swell enfle enflee enfles enflees gonfle gonflee gonflees');
const face = wordSet('face eyes eye cheeks gorge visage yeux');
const fond = wordSet('envy love jealousy delight excitement');
const belly = wordSet('stomach tummy belly gut ventre coeur estomac');
const aching = wordSet('ache aches ached upset pain pains hurt hurts cramp cramps bug mal douleur douleurs');
const teeth = wordSet('tooth teeth molar crown denture dentures dent dents');
const breaking = wordSet('chipped chip broke broken cracked casse cassee');
const mouth = wordSet('lip lips mouth tongue gum gums throat levre levres bouche langue');
/** `no glass or metal`, `not sick or ill`, `no bits of glass`. */
const harmful = new Set([
  ...illness,
  ...containerMaterials,
  ...objects,
  ...chemicals,
  ...tasting,
  ...pieces,
  'sick',
  'ill',
  'like',
]);
