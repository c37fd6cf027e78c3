import { clausesOf, denials, isDenied, near } from './clauses.js';
import { goodLikeness } from './harmless-words.js';
import * as list from './note-words.js';
import { plainText } from './plain-words.js';
import { spoilageIn } from './spoilage-words.js';

/** What a note may say that the rest of the record doesn't. */
export const noteSubjects = ['added', 'foreign', 'off', 'cold', 'instrument', 'diluted'] as const;
export type NoteSubject = (typeof noteSubjects)[number];

/** What was found in a note: its subject, and the words that say it, plain. */
export interface NoteSign {
  readonly subject: NoteSubject;
  readonly words: readonly string[];
}

/**
 * What a note says of something added, foreign matter, an off smell or taste, jars cold at capping, an instrument in
 * doubt, or water added. Denied words are left out ("no vanilla"). One pass, each word with a few words around it.
 * English and French, from memory.
 */
export function noteSigns(note: string): NoteSign[] {
  const clauses = clausesOf(note);
  const capitals = new Set((note.match(/(?<=[^\s.!?]\s)\p{Lu}\p{Ll}+/gu) ?? []).map(plainText));
  const found = new Map<NoteSubject, Set<string>>();
  for (const words of clauses)
    for (const [at, word] of words.entries())
      for (const subject of noteSubjects) {
        if (!says[subject]({ words, at, word, capitals })) continue;
        found.set(subject, (found.get(subject) ?? new Set()).add(word));
      }
  // `ginger pieces in it` is one question.
  const matter = found.get('foreign');
  if (found.has('added') && matter && [...matter].every((word) => pieces.has(word))) found.delete('foreign');
  return noteSubjects.flatMap((subject) => {
    const words = found.get(subject);
    return words ? [{ subject, words: [...words] }] : [];
  });
}

const pieces = new Set(['bits', 'pieces', 'chip', 'chips', 'flakes', 'something', 'leaf', 'leaves', 'specks', 'found']);

interface Place {
  readonly words: readonly string[];
  readonly at: number;
  readonly word: string;
  /** Words written with a capital inside a sentence, plain. */
  readonly capitals: ReadonlySet<string>;
}

/** Whether one of the words stands so many places before, or after, the word. */
const has = ({ words, at }: Place, set: ReadonlySet<string>, before: number, after: number): boolean =>
  words.slice(Math.max(0, at - before), at).some((word) => set.has(word)) ||
  words.slice(at + 1, at + 1 + after).some((word) => set.has(word));

/** `in the kettle`, `into it`, within a few words after the place, or before it. */
const isIn = ({ words, at }: Place, vessels: ReadonlySet<string>, before = 0): boolean =>
  words.slice(Math.max(0, at - before), at + 7).some((word, n) => {
    if (!list.into.has(word)) return false;
    const from = Math.max(0, at - before) + n + 1;
    return words.slice(from, from + 4).some((each) => vessels.has(each));
  });

const says: Readonly<Record<NoteSubject, (place: Place) => boolean>> = {
  added: (place) => isAdded(place) && !isDenied(place.words, place.at, list.forms),
  foreign: (place) => isForeign(place) && !isDenied(place.words, place.at, foreignPassed),
  off: (place) => isOff(place),
  cold: (place) => isCold(place),
  instrument: (place) => isDoubted(place),
  diluted: (place) => isDiluted(place) && !isDenied(place.words, place.at, list.waterPassed),
};
const foreignPassed = new Set([
  ...list.particles,
  ...list.chemicals,
  ...list.falling,
  'bits',
  'bit',
  'pieces',
  'piece',
]);

function isAdded(place: Place): boolean {
  const { words, at, word, capitals } = place;
  const next = words[at + 1] ?? '';
  if (list.infusing.has(word)) return !list.notIngredient.has(next) && !has(place, list.awayFromSyrup, near, near);
  if (word === 'smoked') return ['over', 'with', 'in', 'syrup', 'maple', 'batch'].includes(next);
  if (list.barrels.has(word)) return has(place, list.agedIn, 4, 4) && !has(place, list.awayFromSyrup, near, near);
  if (list.ageing.has(word)) return has(place, list.agedIn, 0, 4);
  const isCornSyrup = word === 'corn' && next === 'syrup';
  if (!isCornSyrup && !list.ingredients.has(word)) return false;
  if (words.slice(Math.max(0, at - near), at).some((each) => list.taste.has(each))) return false;
  if (list.notIngredient.has(next) || ['smell', 'taste', 'notes'].includes(next)) return false;
  const isInSyrup = isIn(place, list.vessels, near);
  const isPutIn = has(place, list.putIn, 4, 3);
  const hasForm = list.forms.has(next) || has(place, list.forms, 2, 0);
  if (!isInSyrup && !isPutIn && has(place, list.awayFromSyrup, near, near)) return false;
  if (isInSyrup || hasForm || (has(place, list.having, 3, 0) && has(place, list.someJars, near + 1, 0))) return true;
  if (list.namesToo.has(word) && capitals.has(word)) return false;
  return isPutIn || has(place, withWords, 4, 0) || words.every((each) => list.ingredients.has(each) || isBeside(each));
}
const withWords = new Set(['with', 'avec']);
const isBeside = (word: string): boolean => list.besideIngredient.has(word) || list.forms.has(word);

function isForeign(place: Place): boolean {
  const { words, at, word } = place;
  const next = words[at + 1] ?? '';
  if (list.dripping.has(word)) return isDripping(place);
  if (word === 'found') return isIn(place, foundIn) && !has(place, trouble, 0, near);
  const isChemical = list.chemicals.has(word);
  if (!isChemical && !list.particles.has(word) && !(word === 'aid' && words[at - 1] === 'band')) return false;
  if (list.notMatter.has(next)) return false;
  if (has(place, list.lostIn, 0, 2)) return true;
  if (next === 'on' && has(place, onSyrup, 0, 3)) return true;
  if (isChemical && list.looseBits.has(next)) return !has(place, list.elsewhere, near, near);
  if (list.soiling.has(word) && next === 'on' && has(place, list.onLids, 0, 4)) return true;
  if ((word === 'oil' || word === 'huile') && has(place, list.defoaming, near, 8)) return false;
  if (isIn(place, list.vessels) || (isChemical && isIn(place, list.sapVessels))) return true;
  // `flaked off the filler`, `peeling above the pan`, `dripped in`.
  if (!has(place, list.falling, near, near)) return false;
  const endsInside = list.into.has(words.at(-1) ?? '') && words.length - at <= near + 2;
  return endsInside || (has(place, list.overVessel, 0, near) && has(place, solidVessels, 0, 8));
}
/** `roof leaked into the pan`, `a pen cap fell in`. */
function isDripping(place: Place): boolean {
  const { words, at } = place;
  if (has(place, list.ordinarySubjects, near, 2) || has(place, nothing, 3, 0)) return false;
  return (
    isIn({ ...place, words: words.slice(0, at + 6) }, solidVessels) ||
    (list.into.has(words[at + 1] ?? '') && at + 2 === words.length)
  );
}
const onSyrup = new Set(['syrup', 'sirop']);
const nothing = new Set(['nothing', 'rien']);
const foundIn = new Set([...list.vessels, 'pump', 'strainer']);
const trouble = new Set(['leak', 'hole', 'crack', 'trouble', 'it', 'them']);
const solidVessels = new Set([...list.vessels].filter((word) => !['it', 'them', 'each', 'half'].includes(word)));

function isOff(place: Place): boolean {
  const { words, at, word } = place;
  // What the words of spoilage ask about is asked once.
  const isOwn = (): boolean => spoilageIn(words.slice(Math.max(0, at - 8), at + 9).join(' ')).length === 0;
  const [before, next] = [words[at - 1] ?? '', words[at + 1] ?? ''];
  if (word === 'buddy')
    return (
      (list.buddyAfter.has(next) || list.buddyBefore.has(before) || list.taste.has(before) || list.taste.has(next)) &&
      !isDenied(words, at, list.taste)
    );
  if (list.taste.has(word)) {
    if (has(place, list.right, 0, 3) && has(place, denied, 3, 2)) return isOwn();
    return isBadLikeness(place) && isOwn();
  }
  if (!list.offWords.has(word) || isDenied(words, at, list.taste)) return false;
  if (list.taste.has(next)) return isOwn();
  if (before === 'something' && has(place, ofSyrup, 0, near)) return isOwn();
  if (list.offElse.has(next)) return false;
  for (let n = at - 1; n >= Math.max(0, at - near); n--) {
    const each = words[n]!;
    if (list.taste.has(each)) return isOwn();
    if (!list.beforeOff.has(each) && !list.offWords.has(each)) return false;
  }
  return false;
}
const denied = new Set([...denials, 'doesnt', 'dont', 'didnt', 'cant', 'cannot', 'couldnt', 'wont', 'wouldnt']);
const ofSyrup = new Set([...list.taste, 'syrup', 'it', 'batch', 'jar', 'jars']);

/** `smells like a wet dog`, `tastes of plastic`; not `smells like spring`. */
function isBadLikeness({ words, at }: Place): boolean {
  const next = words[at + 1] ?? '';
  const what = words.slice(at + 2, at + 5);
  if (what.some((word) => list.badLikeness.has(word)) && ['of', 'like', 'de', 'comme', 'le', 'la'].includes(next))
    return !words.slice(at, at + 9).some((word) => list.smokeOutside.has(word));
  return next === 'like' && what.length > 0 && !what.some((word) => goodLikeness.has(word) || list.alsoGood.has(word));
}

function isCold(place: Place): boolean {
  const { words, at, word } = place;
  const [before, next] = [words[at - 1] ?? '', words[at + 1] ?? ''];
  if (isColdAt(place)) return true;
  if (list.limitWords.has(word) && belowWords.has(before)) return !has(place, list.forecast, near, near);
  if (list.notHotEnough.has(word)) return !has(place, list.coldDrink, 2, 3) && !isDenied(words, at, jarsPassed);
  const isNotHot = word === 'hot' && has(place, notHot, 2, 0);
  if (word === 'warm' ? !list.onlyWarm.has(before) : !isNotHot && !list.cold.has(word)) return false;
  if (list.weather.has(next) || (has(place, list.coldSubjects, 3, 0) && !has(place, list.jarWords, 3, 0))) return false;
  if (!isNotHot && isDenied(words, at, jarsPassed)) return false;
  if (isNotHot && has(place, list.coldThings, near, 0)) return true;
  if (next === 'syrup' && has(place, list.filling, near, 0)) return true;
  if (list.gotCold.has(before) && has(place, syrupOrKettle, 3, 0))
    if (word === 'cold' || has(place, list.cappingAny, 8, 6)) return true;
  return isColdWhenCapped(place) || isCappedCold(place) || isColdJar(place);
}
const syrupOrKettle = new Set(['syrup', 'kettle', 'sirop', 'filler']);
const notHot = new Set([...denials, 'arent', 'longer', 'hardly']);
const jarsPassed = new Set([...list.jarWords, 'the', 'these', 'those', 'them', 'too']);

/** `cold when we capped them`, `cooled down, then filled`. */
function isColdWhenCapped({ words, at }: Place): boolean {
  const after = words.slice(at + 1, at + 9);
  const joined = after.findIndex((each) => list.connectors.has(each));
  if (joined >= 0 && after.slice(joined + 1).some((each) => list.cappingAny.has(each))) return true;
  const followed = after.findIndex((each) => list.then.has(each));
  return followed >= 0 && after.slice(followed + 1, followed + 4).some((each) => list.filling.has(each));
}

/** `capped cold`, `filled the last row cool`. */
function isCappedCold({ words, at }: Place): boolean {
  for (let n = at - 1; n >= Math.max(0, at - near); n--) {
    const each = words[n]!;
    if (list.filling.has(each)) return true;
    if (!list.afterCapped.has(each)) return false;
  }
  return false;
}

/** `jars were cold`, `cold bottles`: hot syrup drops below the limit in them. */
function isColdJar(place: Place): boolean {
  const { words, at, word } = place;
  if (!jarIsCold.has(word) || has(place, list.warmedJars, near, 8)) return false;
  if (list.jarWords.has(words[at + 1] ?? '')) return true;
  for (let n = at - 1; n >= Math.max(0, at - near); n--) {
    const each = words[n]!;
    if (list.jarWords.has(each)) return true;
    if (!list.stillCold.has(each)) return false;
  }
  return false;
}
const jarIsCold = new Set(['cold', 'chilly', 'froid', 'froids', 'froides']);

/** `capped at about 165`, `below 180 before the last jars were filled`; jars and pints are counts. */
function isColdAt(place: Place): boolean {
  const { words, at, word } = place;
  if (!/^1\d\d$/u.test(word) || list.quantityWords.has(words[at + 1] ?? '')) return false;
  const isBelow = has(place, belowWords, 1, 0);
  if (isBelow && Number(word) <= 180) return has(place, list.cappingAny, near, 7);
  if (Number(word) >= 180) return false;
  if (has(place, list.filling, 4, 0) && words.slice(Math.max(0, at - 2), at).includes('at')) return true;
  return has(place, downTo, 1, 0) && has(place, list.temperatureOf, near, 0) && !has(place, notKettle, near, near);
}
const notKettle = new Set([...list.forecast, 'arch', 'stack', 'oven']);
const downTo = new Set(['only', 'just', 'to', 'barely']);
const belowWords = new Set(['below', 'under']);

function isDoubted(place: Place): boolean {
  const { words, at, word } = place;
  if (list.readings.has(word)) {
    if (has(place, list.forecast, near, near)) return false;
    return words.some(
      (each, n) => Math.abs(n - at) < near && list.guesses.has(each) && !isDenied(words, n, readsPassed),
    );
  }
  if (!(list.instruments.has(word) || /^[thr]\d{1,2}$/u.test(word)) || list.otherInstrument.has(words[at - 1] ?? ''))
    return false;
  const next = words[at + 1] ?? '';
  if (has(place, list.withoutIt, 2, 0)) return !list.trouble.has(next);
  if (has(place, trusting, near, near) && has(place, denied, near, near)) return true;
  return words.some((each, n) => {
    if (Math.abs(n - at) > near || !list.doubts.has(each)) return false;
    if (each === 'dead' && words[n + 1] === 'on') return false;
    if ((each === 'high' || each === 'low') && !list.readsSo.has(words[n - 1] ?? '')) return false;
    if ((each === 'dropped' || each === 'fell') && has(place, list.testCup, 0, near)) return false;
    if (words[n - 1] === 'turned' || words[n - 1] === 'switched') return false;
    return !isDenied(words, n, readsPassed);
  });
}
const trusting = new Set(['trust', 'agree', 'agreed', 'right', 'sure', 'settle', 'steady', 'working', 'read']);
const readsPassed = new Set([...list.instruments, ...list.readings, 'reads', 'read', 'too', 'very']);

function isDiluted(place: Place): boolean {
  const { words, at, word } = place;
  const next = words[at + 1] ?? '';
  if (/^dilut/u.test(word) || word === 'dilue' || word === 'diluee') return !has(place, list.notSyrup, near, near);
  if (word === 'thinned' || word === 'eclairci') return next !== 'by' && !has(place, list.trees, near, near);
  if (word === 'watered')
    return (
      next === 'down' ||
      (has(place, downWords, 0, 2) && next === 'it') ||
      next === 'syrup' ||
      (next === 'it' && at + 2 === words.length)
    );
  if (word === 'cut') return ['with', 'it'].includes(next) && has(place, list.waters, 0, near);
  if (list.wet.has(word)) return has(place, list.jarWords, 3, 3) && !has(place, list.wetElsewhere, near, near);
  if (word === 'rinsed' || word === 'rinse')
    return next !== 'with' && words.includes('into') && has(place, intoSyrup, 0, 6);
  if (word === 'water' || word === 'sap') {
    const isLetDown = has(place, withWords, 3, 0) && has(place, list.letDown, 6, 0);
    if (isLetDown && !has(place, list.filledWith, 6, 2) && !has(place, list.waterElsewhere, 8, near)) return true;
  }
  if (!list.waters.has(word)) return false;
  if (isIn(place, list.jarWords) && next === 'in') return !has(place, list.warmingJars, near, near);
  if (isIn(place, list.vessels) && has(place, gotIn, near, near)) return !has(place, list.warmingJars, near, near);
  return (
    word !== 'rain' &&
    word !== 'snow' &&
    has(place, list.adding, 6, near) &&
    !has(place, list.waterElsewhere, near, near)
  );
}
const intoSyrup = new Set(['batch', 'syrup', 'jar', 'jars', 'it', 'pack']);
const downWords = new Set(['down']);
const gotIn = new Set([...list.falling, 'left', 'some', 'ran', 'was', 'were', 'still', 'spilled', 'splashed', 'reste']);
