import { formatLimits } from '../jars/fill-holds.js';
import { coldestInJar } from './judge-reading.js';
import { type Temperature } from '../quantities/quantities.js';
import { millilitresIn } from '../quantities/units.js';
import { findingOf } from './rules.js';
import { formatHours, formatRounded, formatTemperature } from '../quantities/format-quantities.js';
import type { BoilTimes } from './judge-times.js';
import type { Finding } from './verdict.js';
import {
  allergensCarried,
  defoamerNotRecorded,
  type DefoamerFacts,
  judgeDefoamer,
} from '../contents/judge-defoamer.js';

/** What a pack is judged by of each boil that its syrup came from. */
export interface BoilFacts extends BoilTimes {
  readonly defoamer: string;
  readonly defoamerAllergens: string;
  /** Defoamers named only in the boil's log. */
  readonly defoamersInLog?: readonly string[] | undefined;
  /** The answer recorded later, by an action on the pack. */
  readonly allergensLater?: string | undefined;
  /** An earlier answer for the same bottle or name, not confirmed for this boil. */
  readonly allergensBefore?: DefoamerFacts['before'];
  /** Allergens of earlier boils since the pans were last washed. */
  readonly allergensInPans?: readonly string[] | undefined;
  /** Allergens that corrective actions on the boil or on other packs of it name. */
  readonly allergensByActions?: readonly string[] | undefined;
  /** Defoamers of those boils without an answer. */
  readonly unansweredInPans?: readonly DefoamerFacts[] | undefined;
  /** The boil's own filtering and those of its draw-offs. */
  readonly filters: readonly { readonly temperature?: Temperature | undefined; readonly medium: string }[];
  /** Instants in milliseconds, so that elapsed time is real time. */
  readonly restedFromMs?: number | undefined;
  /** Undefined while the boil is in progress. */
  readonly syrupMl?: number | undefined;
  /** Drawn by all packs, including the one judged. */
  readonly drawnInAllMl: number;
}

export interface BoilJudgeOptions {
  /** False while jars are being filled: what is not recorded yet is no finding. */
  readonly finished: boolean;
  readonly litres: boolean;
}

/**
 * The findings on one boil: defoamer, filter, rest, and more drawn than there was. A missing filter or defoamer counts
 * only once the pack is finished.
 */
export function judgeBoil(boil: BoilFacts, { finished, litres }: BoilJudgeOptions): Finding[] {
  return [
    ...judgeDefoamer(defoamerOf(boil)),
    ...(finished ? defoamerNotRecorded(defoamerOf(boil)) : []),
    ...(boil.unansweredInPans ?? []).flatMap(judgeDefoamer),
    ...filterFindings(boil, finished),
    ...restFindings(boil),
    ...(boil.syrupMl === undefined
      ? []
      : drawnMoreThanThere({ lot: boil.lot, thereMl: boil.syrupMl, drawnMl: boil.drawnInAllMl, litres })),
  ];
}

/** Allergens of every defoamer upstream as answered, each once; `none` is an answer without names. */
export function allergensOf(boils: readonly BoilFacts[], bought: readonly DefoamerFacts[] = []): string[] {
  const named = [
    ...allergensCarried([...boils.map(defoamerOf), ...bought]),
    ...boils.flatMap((boil) => [...(boil.allergensInPans ?? []), ...(boil.allergensByActions ?? [])]),
  ];
  return [...new Map(named.map((word) => [word.toLowerCase(), word])).values()];
}

/** The defoamer of a boil, under all its names, with all its answers. */
const defoamerOf = (boil: BoilFacts): DefoamerFacts => ({
  of: `boil ${boil.lot}`,
  about: `boil/${boil.lot}`,
  names: [boil.defoamer, ...(boil.defoamersInLog ?? [])],
  answers: [boil.defoamerAllergens, boil.allergensLater ?? ''],
  before: boil.allergensBefore,
});

/**
 * An advisory where more was drawn from a lot than was in it: syrup already poured is a fact and is recorded with it.
 */
export function drawnMoreThanThere(of: { lot: string; thereMl: number; drawnMl: number; litres: boolean }): Finding[] {
  if (of.drawnMl <= of.thereMl * (1 + 1e-6) + 0.5) return [];
  const inUnit = (millilitres: number) => formatVolume(millilitres, of.litres);
  return [
    findingOf('drawn-more-than-there', {
      limit: `no more than the ${inUnit(of.thereMl)} of ${of.lot}`,
      found: `${inUnit(of.drawnMl)} drawn from ${of.lot}, ${inUnit(of.drawnMl - of.thereMl)} more than was there`,
    }),
  ];
}

/** A calculated volume, in the unit of the book: two decimals, or four where two would show zero. */
export function formatVolume(millilitres: number, litres: boolean): string {
  const amount = millilitres / (litres ? millilitresIn.L : millilitresIn.gal);
  return `${formatRounded(amount, Math.abs(amount) < 0.1 ? 4 : 2)} ${litres ? 'L' : 'gal'}`;
}

function filterFindings({ lot, filters }: BoilFacts, finished: boolean): Finding[] {
  const read = filters.flatMap(({ temperature }) => (temperature ? [temperature] : []));
  const cold = read.filter(({ unit, degrees }) => degrees < coldestInJar[unit]);
  const coldest = cold.sort((a, b) => a.celsius - b.celsius)[0];
  if (coldest)
    return [
      findingOf('filter-temperature', {
        limit: `filtered at ${formatLimits(coldestInJar, new Set([coldest.unit]))} or more`,
        found: `boil ${lot}: filtered at ${formatTemperature(coldest)}`,
      }),
    ];
  if (read.length > 0 || !finished) return [];
  return [
    findingOf('filter-temperature', {
      limit: 'filtered at 180 °F (82 °C) or more, and read',
      found: `boil ${lot}: filter temperature not read`,
    }),
  ];
}

const restHours = 12;
/** Shorter rests look like a mistyped time. */
const veryShortHours = 1;

function restFindings({ lot, restedFromMs, restedUntilMs }: BoilFacts): Finding[] {
  if (restedFromMs === undefined || restedUntilMs === undefined) return [];
  const hours = (restedUntilMs - restedFromMs) / 3_600_000;
  if (hours >= restHours) return [];
  return [
    findingOf('short-rest', {
      limit: `about ${restHours} h of rest after filtering (advice, never a limit)`,
      found: `boil ${lot}: rested ${formatHours(hours)}${hours < veryShortHours ? '. Are both times right?' : ''}`,
    }),
  ];
}
