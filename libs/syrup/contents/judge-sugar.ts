import { trueBrix } from '../science/corrected.js';
import { formatVolume } from '../rules/judge-boils.js';
import type { DensityReading } from '../quantities/quantities.js';
import { findingOf } from '../rules/rules.js';
import { rounded } from '../quantities/decimal-text.js';
import { sucroseDensity } from '../science/sucrose.js';
import type { Finding } from '../rules/verdict.js';

/** Sap or bought sap or syrup that went into a boil. */
export interface SugarInput {
  readonly millilitres: number;
  /** As read; absent where it was not. */
  readonly sugar?: DensityReading | undefined;
  /** Bought: it may have been syrup, so an unread sugar could be any. */
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
  readonly litres: boolean;
}

/** Tolerance for measuring sap with a dipstick and sugar with a hydrometer in cold sap: common practice, no source. */
const forMeasuring = 1.2;
/**
 * °Bx. No membrane of a sugarhouse gives sweeter sap: common practice, no source. It bounds sap whose sugar was not
 * read.
 */
const sweetestSapBrix = 40;

/**
 * More sugar in the syrup than in the sap, by over 20 %. Judged where the sugar of every input was read; sap without a
 * reading counts as the sweetest possible, so that only an impossible amount raises a question. Where two readings
 * differ the sweeter one counts.
 */
export function judgeSugar(boil: BoilSugar): Finding[] {
  const { syrupMl, leastBrix, litres } = boil;
  if (!syrupMl || boil.sweetCarriedIn) return [];
  const sap = sapOf(boil);
  if (!sap) return [];
  const sugarIn = sap.reduce((grams, each) => grams + sugarGrams(each.millilitres, each.brix), 0);
  const made = sugarGrams(syrupMl, leastBrix);
  if (made <= sugarIn * forMeasuring) return [];
  const couldBe = (syrupMl * sugarIn) / made;
  const inUnit = (millilitres: number) => formatVolume(millilitres, litres);
  const sapMl = sap.reduce((sum, each) => sum + each.millilitres, 0);
  const inAll = `${inUnit(sapMl)} of ${describedSap(sap)}`;
  return [
    findingOf('more-sugar-than-came-in', {
      limit: `no more than ${inUnit(couldBe * forMeasuring)} of syrup from ${inAll}: the sugar of ${inUnit(couldBe)} at ${leastBrix.toFixed(1)} °Bx, and 20 % for measuring`,
      found: `boil ${boil.lot}: ${inUnit(syrupMl)} of syrup from ${inAll}. Was partly boiled syrup left in the pans from the last boil, or is one of the amounts wrong?`,
      wayOut:
        'Add the syrup left in the pans from the last boil (carried from), or correct the amount of sap, its sugar or the syrup. ' +
        'If the numbers are right, a maker may release the boil and say why.',
      identity: {
        evidence: {
          boil: boil.lot,
          syrupMl,
          sap: sap.map(({ millilitres, brix, isRead }) => ({
            ml: millilitres,
            brix: Number(rounded(brix, 1)),
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

/** The inputs, each with the sugar it counts for; undefined where that could be any, or where no amount is known. */
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
  // The sap boiled may be more than the listed gatherings: the rest is sap too.
  const unlisted = (sapMl ?? 0) - listed;
  if (unlisted > 0.5)
    sap.push({ millilitres: unlisted, brix: ofBoil ?? sweetestSapBrix, isRead: ofBoil !== undefined });
  const isAmountUnknown = sapMl === undefined && inputs.some(({ millilitres }) => millilitres === 0);
  return sap.length === 0 || isAmountUnknown ? undefined : sap;
}

/** `sap at 2.1 °Bx`; for several, the range from the thinnest to the sweetest. */
function describedSap(sap: readonly Sap[]): string {
  const read = sap.filter(({ isRead }) => isRead).map(({ brix }) => brix);
  const [least, most] = [Math.min(...read), Math.max(...read)].map((brix) => rounded(brix, 1));
  const sugar = least === most ? `sap at ${most} °Bx` : `sap at ${least} to ${most} °Bx`;
  const unread = `sap whose sugar was not read, counted as ${sweetestSapBrix} °Bx`;
  if (read.length === 0) return unread;
  return read.length === sap.length ? sugar : `${sugar} and ${unread}`;
}

const sugarGrams = (millilitres: number, brix: number): number =>
  (millilitres / 1000) * sucroseDensity(brix, 20) * (brix / 100);
