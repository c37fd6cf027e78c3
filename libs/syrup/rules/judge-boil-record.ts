import { trueBrix } from '../science/corrected.js';
import type { DensityReading } from '../quantities/quantities.js';
import { findingOf } from './rules.js';
import { formatHours, shownDensity } from '../quantities/decimal-text.js';
import type { Finding } from './verdict.js';

/** Data for the advisories about a boil's own figures: likely mistakes raise a question; none of them holds. */
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
}

/** A long night at an evaporator, and a small pan of nearly finished syrup: common practice, no source. */
const usualHours = { least: 0.5, most: 24 };
/** °Bx. Sap of the sugar maple is about 2 °Bx and seldom above 5 (from memory, not verified). */
const sweetestFromTree = 6;

/** The advisories on a boil's own record. */
export const judgeBoilRecord = (boil: BoilRecord): Finding[] => [...hours(boil), ...verySweet(boil), ...noSap(boil)];

function hours({ lot, beganMs, finishedMs }: BoilRecord): Finding[] {
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

function verySweet({ sugars }: BoilRecord): Finding[] {
  return sugars
    .filter(({ sugar }) => (trueBrix(sugar) ?? 0) > sweetestFromTree)
    .map(({ of, sugar }) =>
      findingOf('sap-very-sweet', {
        limit: `sap of at most ${sweetestFromTree} °Bx, as it comes from the tree`,
        found: `${of}: sap of ${shownDensity(sugar)}. Was it concentrated by a membrane? If so, record it in the note`,
      }),
    );
}

function noSap({ lot, isSapRecorded, syrupMl }: BoilRecord): Finding[] {
  if (isSapRecorded || !syrupMl) return [];
  return [
    findingOf('no-sap-recorded', {
      limit: 'the sap that went in, by its gatherings or how much in all',
      found: `boil ${lot}: syrup is recorded, and no sap. Record which gatherings it came from`,
    }),
  ];
}
