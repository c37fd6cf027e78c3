import { plainText, wordSet } from './plain-words.js';

/**
 * Words of harm in what a buyer writes, English and French: somebody was ill, something was in the syrup, it tastes of a
 * chemical. What is denied just before ("nobody was ill") is not found; where it isn't clear, somebody is asked. One
 * pass over the words, each looking a few words around it. The words are common practice, no source.
 */
export function harmIn(text: string): string[] {
  const found = clausesOf(text).flatMap((words) => words.filter((_, at) => isHarm(words, at) && !isDenied(words, at)));
  return [...new Set(found)];
}

const clausesOf = (text: string): string[][] =>
  plainText(text)
    .split(/[^\p{L}\p{N}\s\-–—/]|\b(?:but|mais)\b/u)
    .map((clause) => clause.match(/[\p{L}\p{N}]+/gu) ?? []);

const near = 5;

function isHarm(words: readonly string[], at: number): boolean {
  const word = words[at]!;
  const [before, next] = [words[at - 1] ?? '', words[at + 1] ?? ''];
  const around = (some: ReadonlySet<string>): boolean =>
    words.slice(Math.max(0, at - near), at + near + 1).some((each) => some.has(each));
  if (word === 'sick') return next !== 'of';
  if (word === 'ill')
    return !['fitting', 'fitted', 'be', 'have', 'take', 'come', 'buy', 'never', 'order'].includes(next);
  if (illness.has(word)) return true;
  if (word === 'up') return ['threw', 'throwing', 'throw'].includes(before);
  if (wares.has(word))
    return (
      !vessels.has(next) &&
      (pieces.has(before) || (pieces.has(words[at - 2] ?? '') && of.has(before)) || isInFood(words, at))
    );
  if (objects.has(word)) return !whose.has(before) && around(inside);
  return chemicals.has(word) && around(tasting);
}

/** `glass in the syrup`, `verre dans le pot`. */
const isInFood = (words: readonly string[], at: number): boolean =>
  ['in', 'inside', 'dans'].includes(words[at + 1] ?? '') && words.slice(at + 2, at + 5).some((each) => food.has(each));

const isDenied = (words: readonly string[], at: number): boolean =>
  words.slice(Math.max(0, at - 4), at).some((each) => denials.has(each));

const illness = wordSet(
  'sickness sickened illness vomit vomits vomited vomiting nausea nauseous nauseated diarrhea diarrhoea hospital poisoned poisoning botulism allergic anaphylaxis anaphylactic hives malade malades vomi vomir vomit vomissements nausee nausees diarrhee hopital intoxication intoxique empoisonne empoisonnement allergique urticaire',
);
/** What jars and lids are made of: in the syrup it is harm, in a sentence about a jar it is not. */
const wares = wordSet('glass metal plastic verre plastique');
const vessels = wordSet('jar jars bottle bottles lid lids cap caps jug jugs tin tins container containers top');
const pieces = wordSet(
  'piece pieces bit bits chip chips shard shards sliver slivers splinter splinters fragment fragments broken something morceau morceaux eclat eclats debris brise',
);
const of = wordSet('of de du');
const food = wordSet('syrup jar jars it mouth teeth food sirop pot pots bouche');
const objects = wordSet(
  'shard shards splinter splinters screw nail nails staple staples wire hair hairs insect insects bug bugs fly flies ant ants wasp moth beetle mouse stone stones pebble eclats vis clou agrafe cheveu cheveux poil insecte insectes mouche mouches fourmi fourmis caillou cailloux souris',
);
const whose = wordSet('my her his our their your mes ses tes nos vos');
const inside = wordSet('in inside found swallowed bit teeth mouth bottom dans trouve avale dents bouche fond');
const chemicals = wordSet(
  'bleach chlorine detergent soap soapy diesel petrol gasoline kerosene solvent paint chemical chemicals rust rusty javel savon mazout peinture chimique chimiques rouille',
);
const tasting = wordSet(
  'taste tastes tasted tasting smell smells smelled smelt reeks flavor flavour gout goute sent odeur',
);
const denials = wordSet(
  'no not nobody noone none never without nor didnt wasnt werent isnt sans pas aucun aucune personne jamais',
);
