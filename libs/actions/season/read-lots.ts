import type { SeasonLot } from '#libs/reports/season/lot.js';
import { lotsNamed } from '#libs/store/connection/batch-queries.js';
import { utcOf } from '#libs/store/connection/instants.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { PackAccount } from '#libs/store/queries/pack-accounts.js';
import { loadPackData } from './pack-data.js';
import type { LotDeviations } from './read-deviations.js';
import { seasonLot } from './season-lot.js';
import type { SeasonCache } from './season-parts.js';

interface SeasonLotsContext {
  /** The moment of reading, in the book's zone. */
  readonly asOf: string;
  /** Instruments that failed a check in the season. */
  readonly suspectInstruments: ReadonlySet<string>;
  readonly deviations: ReadonlyMap<string, LotDeviations>;
  readonly withoutLog: boolean;
  readonly parts: SeasonCache;
}

/** The packs of a season with their readings, balances, findings and history, in the order given. */
export async function readSeasonLots(
  reader: SugarhouseReader,
  packs: readonly string[],
  { asOf, suspectInstruments, deviations, withoutLog, parts }: SeasonLotsContext,
): Promise<SeasonLot[]> {
  const unread = packs.filter((code) => !parts.lots.has(code));
  const data = await loadPackData(reader, unread, withoutLog);
  const found = await lotsNamed(reader, unread);
  return packs.flatMap((code) => {
    const known = parts.lots.get(code);
    if (known) return [known];
    const pack = found.get(code);
    if (!pack) return [];
    const lot = seasonLot(pack, data, { asOf, suspectInstruments, deviations: deviations.get(code) });
    if (isAccountedFor(data.accounts.get(code), utcOf(asOf))) parts.lots.set(code, lot);
    return [lot];
  });
}

/** Whether no movement in the account is later than `nowUtc`. */
const isAccountedFor = (account: PackAccount | undefined, nowUtc: string): boolean =>
  account !== undefined &&
  [
    ...account.movements.flatMap(({ sentUtc, lookedUtc }) => [sentUtc, lookedUtc ?? '']),
    ...account.takenOff.map(({ atUtc }) => atUtc),
    ...account.counts.map(({ countedUtc }) => countedUtc),
    ...account.outOf.map(({ atUtc }) => atUtc),
  ].every((at) => at <= nowUtc);
