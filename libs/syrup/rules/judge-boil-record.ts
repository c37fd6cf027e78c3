import { trueBrix } from '../science/corrected.js';
import { inOtherUnit } from '../quantities/other-unit.js';
import type { DensityReading, Temperature } from '../quantities/quantities.js';
import { findingOf } from './rules.js';
import { timesOutOfOrder, type SapTimes, sapTimeSentences } from './judge-times.js';
import { formatHours, formatTemperature, formatDensity } from '../quantities/format-quantities.js';
import type { Finding } from './verdict.js';

/** A boil’s own figures, judged for likely mistakes by advisories only. */
export interface BoilRecord {
  readonly lot: string;
  /** Instants in milliseconds, so that elapsed time is real time. */
  readonly beganMs: number;
  readonly finishedMs?: number | undefined;
  /** Each sugar reading of its sap, with the lot where it is a gathering's. */
  readonly sugars: readonly { readonly of: string; readonly sugar: DensityReading }[];
  /** Whether sap, bought syrup or partly boiled syrup from an earlier boil is recorded, or how much sap was boiled. */
  readonly isSapRecorded: boolean;
  /** Absent while the boil is in progress. */
  readonly syrupMl?: number | undefined;
  /** When its sap was gathered or received. */
  readonly sapAt?: readonly SapKept[] | undefined;
  readonly waterBoilsAt?: Temperature | undefined;
  /** When the syrup was drawn off. */
  readonly finishTemp?: Temperature | undefined;
}

/** Sap and when it was gathered or received, with its temperature where it was read then. */
export interface SapKept extends SapTimes {
  readonly temperature?: Temperature | undefined;
}

/** A long night at an evaporator, and a small pan of nearly finished syrup: common practice, no source. */
const usualHours = { least: 0.5, most: 24 };
/** °Bx. Sap of the sugar maple is about 2 °Bx and seldom above 5 (from memory, not verified). */
const sweetestFromTree = 6;

/** The advisories on a boil's own record. */
export const judgeBoilRecord = (boil: BoilRecord): Finding[] => [
  ...durationFindings(boil),
  ...sapTimeSentences(boil, boil.sapAt ?? []).map(timesOutOfOrder),
  ...boilTemperatureSentences(boil).map((found) =>
    findingOf('unlikely-temperature', {
      limit: 'water that boils at 190 to 214 °F (88 to 101 °C), syrup drawn off at 200 to 240 °F (93 to 116 °C)',
      found: `boil ${boil.lot}: ${found}`,
    }),
  ),
  ...(boil.sapAt ?? []).flatMap(({ lot, temperature }) =>
    sapTemperatureSentences(temperature).map((found) =>
      findingOf('unlikely-temperature', { limit: 'sap at 23 to 86 °F (-5 to 30 °C)', found: `${lot}: ${found}` }),
    ),
  ),
  ...keptLongFindings(boil),
  ...sweetSapFindings(boil),
  ...noSapFindings(boil),
];

/** Sap keeps for days when cold and for hours when warm: common practice, no source. */
const sapKeeps = { hoursCold: 7 * 24, hoursWarm: 24, warmAboveCelsius: 7.3 };

function keptLongFindings({ lot, beganMs, sapAt = [] }: BoilRecord): Finding[] {
  const late = sapAt.flatMap(({ lot: sap, atMs, temperature }) => {
    const isWarm = temperature !== undefined && temperature.celsius > sapKeeps.warmAboveCelsius;
    const hours = (beganMs - atMs) / 3_600_000;
    if (hours <= (isWarm ? sapKeeps.hoursWarm : sapKeeps.hoursCold)) return [];
    return [
      `${sap}, ${isWarm ? `at ${formatTemperature(temperature)}, ` : ''}gathered ${hours < 48 ? formatHours(hours) : `${Math.floor(hours / 24)} days`} before`,
    ];
  });
  if (late.length === 0) return [];
  return [
    findingOf('sap-kept-long', {
      limit: 'sap boiled within seven days, and within a day where it is warmer than 45 °F (7 °C)',
      found: `boil ${lot} began with ${late.join('; ')}`,
    }),
  ];
}

/** °C: where water boils from high mountains to sea level, and how hot syrup is near its end. Practice, no source. */
const usual = { water: [87.7, 101.2], drawnOff: [93.3, 115.6] } as const;
/** °C of sap, from ice in the bucket to a tank in the sun: common practice, no source. */
const usualSap = [-5, 30] as const;

/** Sentences about temperatures outside the usual range of a boil, with the other unit if that is in it. */
export function boilTemperatureSentences({
  waterBoilsAt,
  finishTemp,
}: Pick<BoilRecord, 'waterBoilsAt' | 'finishTemp'>): string[] {
  return [...unlikely('water boils', waterBoilsAt, usual.water), ...unlikely('drawn off', finishTemp, usual.drawnOff)];
}

/** The same about the temperature of gathered sap. */
export const sapTemperatureSentences = (temperature: Temperature | undefined): string[] =>
  unlikely('sap', temperature, usualSap);

/** The same about a reading in a pan, from cold sap to syrup past its end. */
export const panTemperatureSentences = (temperature: Temperature | undefined): string[] =>
  unlikely('the pan', temperature, [usualSap[0], usual.drawnOff[1]]);

/** @param range °C, the least and the most that is usual */
function unlikely(what: string, read: Temperature | undefined, [least, most]: readonly [number, number]): string[] {
  const fits = ({ celsius }: Temperature): boolean => celsius >= least && celsius <= most;
  if (!read || fits(read)) return [];
  const other = inOtherUnit(read);
  return [
    `${what} at ${formatTemperature(read)}. ${fits(other) ? `Did you mean ${formatTemperature(other)}?` : 'Is it right?'}`,
  ];
}

function durationFindings({ lot, beganMs, finishedMs }: BoilRecord): Finding[] {
  if (finishedMs === undefined) return [];
  const tookHours = (finishedMs - beganMs) / 3_600_000;
  if (tookHours >= usualHours.least && tookHours <= usualHours.most) return [];
  return [
    findingOf('boil-hours', {
      limit: `a boil of ${usualHours.least * 60} min to ${usualHours.most} h`,
      found: `boil ${lot}: ${formatHours(tookHours)} from its beginning to its end. Are both times right, with their dates?`,
    }),
  ];
}

function sweetSapFindings({ sugars }: BoilRecord): Finding[] {
  return sugars
    .filter(({ sugar }) => (trueBrix(sugar) ?? 0) > sweetestFromTree)
    .map(({ of, sugar }) =>
      findingOf('sap-very-sweet', {
        limit: `sap of at most ${sweetestFromTree} °Bx, as it comes from the tree`,
        found: `${of}: sap of ${formatDensity(sugar)}. Was it concentrated by a membrane? If so, record it in the note`,
      }),
    );
}

function noSapFindings({ lot, isSapRecorded, syrupMl }: BoilRecord): Finding[] {
  if (isSapRecorded || !syrupMl) return [];
  return [
    findingOf('no-sap-recorded', {
      limit: 'the sap that went in, by its gatherings or how much in all',
      found: `boil ${lot}: syrup is recorded, and no sap. Record which gatherings it came from`,
    }),
  ];
}
