import { randomFrom, type Random } from '../generator/random.js';
import { type Habits, happens } from './habits.js';
import { isColdByNow } from './offset.js';
import { checkFirst, halfDegree, shownBy, type TrueThermometer, wasCheckedOn, writeChecks } from './write-checks.js';

/**
 * An invented season with the hidden true temperatures of jars and errors of thermometers, and what people recorded.
 */
export interface HiddenSeason {
  readonly seed: number;
  readonly instruments: readonly string[];
  readonly checks: readonly WrittenCheck[];
  readonly packs: readonly HiddenPack[];
}

/** As recorded: every value as text with its unit. */
export interface WrittenCheck {
  readonly id: string;
  readonly instrument: string;
  readonly at: string;
  readonly how: 'ice' | 'boiling-water';
  readonly should: string;
  readonly reads: string;
  readonly done: string;
}
export interface WrittenAction {
  readonly at: string;
  readonly jars: string;
  readonly cause: string;
  readonly way: 'reheated-and-repacked' | 'destroyed';
  readonly found: string;
  readonly done: string;
  readonly fillTemps: string;
}
export interface HiddenPack {
  readonly n: number;
  readonly packedAt: string;
  readonly jars: number;
  readonly fillTemps: string;
  readonly actions: readonly WrittenAction[];
  /** °F of each jar when it was last capped, by its number from 1; undefined where it was destroyed. */
  readonly truly: readonly (number | undefined)[];
  /** The same before any action: what a hold concerned. */
  readonly trulyAtFirst: readonly number[];
  readonly stops: Stops;
}

/**
 * Readings that stop jars, by who said so while the syrup was hot. One pack in ten is read on the printed sheet, which
 * says what each thermometer must show; one person in twelve does nothing; what those do who are asked for a check is in
 * habits.ts. These are assumptions, no source.
 */
export interface Stops {
  /** The form warned at once, and the jars were poured back at once. */
  readonly caughtHot: number;
  /** The same with the printed sheet. */
  readonly caughtOnPaper: number;
  /** The form warned at once, and nobody did anything. */
  readonly leftCold: number;
  /** The same on the printed sheet: the program shows it in the evening, when it is entered. */
  readonly leftOnPaper: number;
  /** Of those caught, readings of a jar that was truly too cold. */
  readonly caughtTruly: number;
  /** Of those left, the same. */
  readonly leftTruly: number;
  /** Poured back too though it was no stop: within 2 °F above the limit, by a thermometer without a check that day. */
  readonly pouredNear: number;
}

export function hiddenSeason(seed: number, habits: Habits = {}): HiddenSeason {
  const random = randomFrom(seed);
  const answers = randomFrom(seed + 7_000_000);
  const thermometers = Array.from({ length: random.oneIn(4) ? 2 : 1 }, (_, n) => inventThermometer(random, n));
  const checks: WrittenCheck[] = [];
  const packs: HiddenPack[] = [];
  const many = random.whole(4, 9);
  if (!random.oneIn(3)) writeChecks(random, thermometers, '2026-03-01', checks);
  for (let n = 1; n <= many; n++) {
    if (random.oneIn(30)) drift(random, random.of(thermometers));
    packs.push(inventPack(random, n, thermometers, checks, { habits, asked: answers }));
    if (random.oneIn(8)) writeChecks(random, thermometers, dayOf(n), checks, 'T20:00');
  }
  if (random.oneIn(3)) writeChecks(random, thermometers, '2026-04-20', checks);
  return { seed, instruments: thermometers.map(({ id }) => id), checks, packs };
}

function inventThermometer(random: Random, n: number): TrueThermometer {
  const bias = (): number => (random.oneIn(8) ? random.whole(-50, 50) / 10 : random.whole(-10, 10) / 10);
  const ice = bias();
  return { id: `T${n + 1}`, ice, boiling: random.oneIn(3) ? bias() : ice + random.whole(-5, 5) / 10 };
}

/** Dropped, or left in the stack: from then on it reads differently, and nobody knows. */
function drift(random: Random, of: TrueThermometer): void {
  const by = random.of([-1, 1]) * random.whole(30, 60) * 0.1;
  of.ice += by;
  of.boiling += by;
}

const dayOf = (n: number): string => `2026-03-${String(2 * n + 2).padStart(2, '0')}`;

function inventPack(
  random: Random,
  n: number,
  thermometers: readonly TrueThermometer[],
  checks: WrittenCheck[],
  { habits, asked: answers }: { readonly habits: Habits; readonly asked: Random },
): HiddenPack {
  const jars = random.whole(6, 48);
  const thermometer = random.of(thermometers);
  const isNamed = !random.oneIn(4);
  const options = random.of(['numbers', 'numbers', 'numbers', 'numbers', 'numbers', 'bare', 'times'] as const);
  const every = random.whole(6, 13);
  const isLive = !random.oneIn(10);
  // The quick form and the sheet ask for it. Drawn from a separate stream of random numbers, so that the rest of the
  // season stays the same.
  const since = habits.isRemindedOncePerSeason ? '2026' : dayOf(n);
  if (!wasCheckedOn(since, thermometer.id, checks) && happens(answers, habits.ifReminded))
    checkFirst(answers, thermometer, { day: dayOf(n), checks, habits });
  const isUnchecked = !wasCheckedOn(dayOf(n), thermometer.id, checks);
  let syrup = 184 + random.whole(0, 80) / 10;
  const falls = random.whole(0, 30) / 100;
  const capped: number[] = [];
  const texts: string[] = [];
  let readTo = 0;
  const stops = {
    caughtHot: 0,
    caughtOnPaper: 0,
    leftCold: 0,
    leftOnPaper: 0,
    caughtTruly: 0,
    leftTruly: 0,
    pouredNear: 0,
  };
  const instruments = thermometers.map(({ id }) => id);
  const jar = (): number => syrup - random.whole(0, 20) / 10;
  const textOf = (shown: number, at: number, minute: number): string => {
    const clock = options === 'bare' ? '' : `@${clockOf(10, minute)}`;
    return `${shown} F${clock}${isNamed ? `#${thermometer.id}` : ''}${options === 'numbers' ? ` jar ${at}` : ''}`;
  };
  const read = (truly: number): number => {
    const shown = shownBy(thermometer, truly) + random.whole(-3, 3) / 10;
    return random.oneIn(3) ? halfDegree(shown) : Math.round(shown);
  };
  const readsNothing = random.oneIn(60);
  const readsLastIfReminded = readsNothing && isLive && happens(answers, habits.whenNoneRead);
  for (let at = 1; at <= jars; at++) {
    capped[at - 1] = jar();
    syrup -= falls;
    // One jar that was never warmed.
    if (random.oneIn(150)) capped[at - 1] = (capped[at - 1] ?? 0) - random.whole(4, 15);
    const isDue = at - readTo >= every || (at === jars && !random.oneIn(4)) || at === 1;
    if (readsNothing ? !(readsLastIfReminded && at === jars) : !isDue) continue;
    const shown = read(capped[at - 1] ?? 0);
    const text = textOf(shown, at, at * 2);
    texts.push(text);
    // The form corrects the reading by the known checks, also where it names no thermometer; people with the sheet know
    // which one they hold and look up what it must show.
    const moment = `${dayOf(n)}T10:00`;
    const id = isNamed || !isLive ? thermometer.id : undefined;
    const isSeenCold = isColdByNow(checks, instruments, { id, moment, shown });
    const isNear =
      isUnchecked && isLive && !isSeenCold && isColdByNow(checks, instruments, { id, moment, shown: shown - 2 });
    const isPouredNear = isNear && happens(answers, habits.whenNear);
    const isTruly = (capped[at - 1] ?? 0) < 180;
    if (isPouredNear || (isSeenCold && !random.oneIn(12))) {
      // Poured back at once, the kettle heated, filled and read again.
      syrup = 189;
      texts.push(`${text} poured back`);
      for (let back = readTo + 1; back <= at; back++) capped[back - 1] = jar();
      texts.push(textOf(read(capped[at - 1] ?? 0), at, at * 2 + 1));
      stops[isPouredNear ? 'pouredNear' : isLive ? 'caughtHot' : 'caughtOnPaper']++;
      if (isTruly && !isPouredNear) stops.caughtTruly++;
    } else if (isSeenCold) {
      stops[isLive ? 'leftCold' : 'leftOnPaper']++;
      if (isTruly) stops.leftTruly++;
    } else if (shown < 183 && isLive) syrup += 5;
    readTo = at;
  }
  const trulyAtFirst = [...capped];
  const lowest = texts.filter((text) => !text.endsWith('poured back')).map((text) => Number.parseFloat(text));
  const { actions, truly } =
    stops.leftCold + stops.leftOnPaper > 0 && lowest.some((degrees) => degrees < 180) && !random.oneIn(5)
      ? actedOn(random, n, capped, thermometer, isNamed)
      : { actions: [], truly: capped };
  return {
    n,
    packedAt: `${dayOf(n)}T10:00`,
    jars,
    fillTemps: texts.join(';'),
    actions,
    truly,
    trulyAtFirst,
    stops,
  };
}

/** The temperature of a jar filled again; now and then one that was not warmed. */
const againIn = (random: Random): number => (random.oneIn(25) ? 174 : 184) + random.whole(0, 60) / 10;

/** The next morning: all jars are filled again and read every ten, or some of them, or some are poured away. */
function actedOn(
  random: Random,
  n: number,
  capped: readonly number[],
  thermometer: TrueThermometer,
  isNamed: boolean,
): { actions: WrittenAction[]; truly: (number | undefined)[] } {
  const jars = capped.length;
  const [from, to] = random.oneIn(3) ? [random.whole(1, jars), jars] : [1, jars];
  const way = random.of(['reheated-and-repacked', 'reheated-and-repacked', 'destroyed'] as const);
  const isAgain = way !== 'destroyed';
  const truly = capped.map((degrees, index): number | undefined =>
    index + 1 < from || index + 1 > to ? degrees : isAgain ? againIn(random) : undefined,
  );
  const markedJars: number[] = [];
  // Some read only the last jar, which is the coldest but covers no more jars than the house's interval.
  const readsOnlyLast = random.oneIn(4);
  for (let at = Math.min(to, from + 9); isAgain && !readsOnlyLast && at < to; at += 10) markedJars.push(at);
  if (isAgain) markedJars.push(to);
  const texts = [...new Set(markedJars)].map((at) => {
    const shown = Math.round(shownBy(thermometer, truly[at - 1] ?? 0) + random.whole(-3, 3) / 10);
    return `${shown} F@${clockOf(15, at)}${isNamed ? `#${thermometer.id}` : ''} jar ${at}`;
  });
  const forgets = random.oneIn(8);
  return {
    actions: [
      {
        at: `${dayOf(n).slice(0, 8)}${String(2 * n + 3).padStart(2, '0')}T15:00`,
        jars: forgets ? '' : `${from}-${to}`,
        cause: 'cold-jar',
        way,
        found: 'jars read too cold',
        done: isAgain ? 'heated to 195 F, filled again' : 'poured out',
        fillTemps: texts.join(';'),
      },
    ],
    truly,
  };
}

function clockOf(hour: number, minute: number): string {
  const all = hour * 60 + minute;
  return `${String(Math.floor(all / 60)).padStart(2, '0')}:${String(all % 60).padStart(2, '0')}`;
}
