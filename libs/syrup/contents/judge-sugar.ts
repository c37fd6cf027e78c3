import { trueBrix } from '../science/corrected.js';
import { formatVolume } from '../rules/judge-boils.js';
import type { DensityReading } from '../quantities/quantities.js';
import { findingOf } from '../rules/rules.js';
import { formatRounded } from '../quantities/format-quantities.js';
import { sucroseDensity } from '../science/sucrose.js';
import type { Finding } from '../rules/verdict.js';

/** Sap or bought sap or syrup that went into a boil. */
export interface SugarInput {
  readonly millilitres: number;
  /** Its sugar as read; absent where nobody read it. */
  readonly sugar?: DensityReading | undefined;
  /** It was bought and may have been syrup, so its sugar is unknown unless it was read. */
  readonly bought: boolean;
}

export interface BoilSugar {
  readonly lot: string;
  readonly inputs: readonly SugarInput[];
  /** The sap boiled, as recorded for the whole boil, and its sugar. */
  readonly sapMl?: number | undefined;
  readonly sapSugar?: DensityReading | undefined;
  /** Partly boiled syrup that an earlier boil left in the pans: its sugar is unknown. */
  readonly sweetCarriedIn: boolean;
  /** Absent while the boil is in progress. */
  readonly syrupMl?: number | undefined;
  /** The least density of the place: the syrup has at least that. */
  readonly leastBrix: number;
  /** Volumes in findings are in litres, otherwise in US gallons. */
  readonly litres: boolean;
}

/** Factor for the errors of a dipstick in sap and of a hydrometer in cold sap: common practice, no source. */
const measuringTolerance = 1.2;
/** °Bx assumed where nobody read a sap’s sugar: no membrane of a sugarhouse gives sweeter sap (common practice, no source). */
const sweetestSapBrix = 40;

/**
 * A finding where the syrup of a boil contains over 20 % more sugar than its sap. Sap without a reading counts as the
 * sweetest possible, and of two readings the sweeter counts, so that only an impossible amount raises a question. Not
 * judged where syrup was left in the pans, or where bought sap has no reading.
 */
export function judgeSugar(boil: BoilSugar): Finding[] {
  const { syrupMl, leastBrix, litres } = boil;
  if (!syrupMl || boil.sweetCarriedIn) return [];
  const sap = sapOf(boil);
  if (!sap) return [];
  const sugarIn = sap.reduce((grams, each) => grams + sugarGrams(each.millilitres, each.brix), 0);
  const sugarOut = sugarGrams(syrupMl, leastBrix);
  if (sugarOut <= sugarIn * measuringTolerance) return [];
  const possibleMl = (syrupMl * sugarIn) / sugarOut;
  const inUnit = (millilitres: number) => formatVolume(millilitres, litres);
  const sapMl = sap.reduce((sum, each) => sum + each.millilitres, 0);
  const sapText = `${inUnit(sapMl)} of ${formatSap(sap)}`;
  return [
    findingOf('more-sugar-than-came-in', {
      limit: `no more than ${inUnit(possibleMl * measuringTolerance)} of syrup from ${sapText}: the sugar of ${inUnit(possibleMl)} at ${leastBrix.toFixed(1)} °Bx, and 20 % for measuring`,
      found: `boil ${boil.lot}: ${inUnit(syrupMl)} of syrup from ${sapText}. Was partly boiled syrup left in the pans from the last boil, or is one of the amounts wrong?`,
      wayOut:
        'Add the syrup left in the pans from the last boil (carried from), or correct the amount of sap, its sugar or the syrup. ' +
        'If the numbers are right, a maker may release the boil and say why.',
      identity: {
        evidence: {
          boil: boil.lot,
          syrupMl,
          sap: sap.map(({ millilitres, brix, isRead }) => ({
            ml: millilitres,
            brix: Number(formatRounded(brix, 1)),
            isRead,
          })),
          leastBrix,
        },
      },
    }),
  ];
}

interface Sap {
  readonly millilitres: number;
  readonly brix: number;
  readonly isRead: boolean;
}

/** The inputs, each with the °Bx it counts for; undefined where that or the amount is unknown. */
function sapOf({ inputs, sapMl, sapSugar }: BoilSugar): readonly Sap[] | undefined {
  const ofBoil = sapSugar && trueBrix(sapSugar);
  const sap: Sap[] = [];
  for (const { millilitres, sugar, bought } of inputs) {
    const read = [sugar && trueBrix(sugar), ofBoil].filter((brix) => brix !== undefined);
    if (bought && (sugar === undefined || trueBrix(sugar) === undefined)) return undefined;
    sap.push({
      millilitres,
      brix: read.length > 0 ? Math.max(...read) : sweetestSapBrix,
      isRead: read.length > 0,
    });
  }
  const listed = sap.reduce((sum, each) => sum + each.millilitres, 0);
  // The sap boiled in all may exceed the listed gatherings; the difference is sap without a gathering.
  const unlisted = (sapMl ?? 0) - listed;
  if (unlisted > 0.5)
    sap.push({ millilitres: unlisted, brix: ofBoil ?? sweetestSapBrix, isRead: ofBoil !== undefined });
  const isAmountUnknown = sapMl === undefined && inputs.some(({ millilitres }) => millilitres === 0);
  return sap.length === 0 || isAmountUnknown ? undefined : sap;
}

/** `sap at 2.1 °Bx`; for several, the range from the thinnest to the sweetest. */
function formatSap(sap: readonly Sap[]): string {
  const read = sap.filter(({ isRead }) => isRead).map(({ brix }) => brix);
  const [least, most] = [Math.min(...read), Math.max(...read)].map((brix) => formatRounded(brix, 1));
  const sugar = least === most ? `sap at ${most} °Bx` : `sap at ${least} to ${most} °Bx`;
  const unread = `sap whose sugar was not read, counted as ${sweetestSapBrix} °Bx`;
  if (read.length === 0) return unread;
  return read.length === sap.length ? sugar : `${sugar} and ${unread}`;
}

const sugarGrams = (millilitres: number, brix: number): number =>
  (millilitres / 1000) * sucroseDensity(brix, 20) * (brix / 100);
