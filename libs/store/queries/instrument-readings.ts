import type { LineBody } from '#libs/records/kinds/boil-line.js';
import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { DrawBody } from '#libs/records/kinds/draw.js';
import type { CheckBody } from '#libs/records/kinds/instrument-check.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { recordFrom, recordsOf, type RecordColumns } from './lots.js';
import type { InstrumentChecked } from '#libs/syrup/instruments/instrument-checks.js';
import { suspectPeriodOf, type SuspectPeriod, isInSuspectPeriod } from '#libs/syrup/instruments/suspect-period.js';
import { canonicalId, findMatchingId, sameId } from '#libs/syrup/instruments/thermometers.js';
import { readingTimeMs } from '#libs/syrup/quantities/reading-time.js';
import type { SugarhouseReader } from '../connection/sugarhouse-reader.js';

/** A lot with a reading that names an instrument, and when it was taken. */
export interface ReadWith {
  readonly lot: string;
  readonly fromMs: number;
  readonly toMs: number;
}

/** Every check of an instrument, oldest first; its id is matched as readings are. */
export async function checksOf(reader: SugarhouseReader, instrument: string): Promise<InstrumentChecked[]> {
  return (await recordsOf(reader, 'check'))
    .filter(({ body }) => same(body.instrument, instrument))
    .map(({ id, body }) => checkedOf(id, body));
}

/** A check of an instrument in the form that the rules use. */
export const checkedOf = (id: string, body: CheckBody): InstrumentChecked => ({
  id,
  atMs: Date.parse(body.at),
  day: body.at.slice(0, 10),
  how: body.how,
  should: body.should,
  shouldFrom: body.shouldFrom,
  reads: body.reads,
  fit: body.fit,
  done: body.done,
});

/** Lots read with an instrument in its suspect period, by code, and that period. `failed` is the failed check. */
export async function suspectedBy(
  reader: SugarhouseReader,
  instrument: string,
  failed?: string,
): Promise<{ period: SuspectPeriod; lots: string[] }> {
  const period = suspectPeriodOf(await checksOf(reader, instrument), failed);
  const lots = (await readWith(reader, instrument)).filter((each) => isInSuspectPeriod(period, each.fromMs, each.toMs));
  return { period, lots: [...new Set(lots.map((each) => each.lot))].sort() };
}

/** Every reading that names its instrument: in the jar, in the kettle, at the draw-off, in the log, of the density. */
export async function readWith({ sql, sugarhouse }: SugarhouseReader, instrument: string): Promise<ReadWith[]> {
  const found: ReadWith[] = [];
  // The typed text is searched first, so that a season's records need not all be parsed.
  const bare = JSON.stringify(canonicalId(instrument)).slice(1, -1);
  const like = `%${anyCase(bare)}%`;
  const likeWithZero = `%${anyCase(bare.replace(/\d/, '0$&'))}%`;
  for (const kind of Object.keys(taken) as (keyof typeof taken)[]) {
    const rows = await sql.rows<RecordColumns>`SELECT * FROM record WHERE sugarhouse = ${sugarhouse}
      AND kind = ${kind} AND (REPLACE(REPLACE(REPLACE(REPLACE(LOWER(typed), ' ', ''), '-', ''), '.', ''), '_', '')
        LIKE ${like} ESCAPE '!' OR REPLACE(REPLACE(REPLACE(REPLACE(LOWER(typed), ' ', ''), '-', ''), '.', ''), '_', '')
        LIKE ${likeWithZero} ESCAPE '!') ORDER BY at_utc, id`;
    for (const row of rows) {
      const record = recordFrom(row);
      const lot = record.lot ?? record.id;
      found.push(
        ...taken[kind](record.body as never, instrument).map(([from, to]) => ({ lot, fromMs: from, toMs: to })),
      );
    }
  }
  return found;
}

type Span = readonly [fromMs: number, toMs: number];
type Taken = (body: never, instrument: string) => Span[];

const taken = {
  pack: (body: PackBody, instrument) => [
    ...fills(body, body.packedAt, instrument),
    ...named(body, body.packedAt, instrument),
  ],
  action: (body: ActionBody, instrument) => [...fills(body, body.at, instrument), ...named(body, body.at, instrument)],
  boil: (body: BoilBody, instrument) => named(body, body.beganAt, instrument, body.finishedAt),
  line: (body: LineBody, instrument) => named(body, body.at, instrument),
  draw: (body: DrawBody, instrument) => named(body, body.drawnAt, instrument),
} satisfies Partial<Record<RecordKind, Taken>> as Record<'pack' | 'action' | 'boil' | 'line' | 'draw', Taken>;

function named(body: { instruments?: readonly string[] }, at: string, instrument: string, until = at): Span[] {
  if (!body.instruments?.some((each) => same(each, instrument))) return [];
  return [[Date.parse(at), Math.max(Date.parse(at), Date.parse(until))]];
}

function fills(body: Pick<PackBody, 'fillTemps'>, at: string, instrument: string): Span[] {
  return body.fillTemps
    .filter((fill) => fill.thermometer !== undefined && same(fill.thermometer, instrument))
    .map((fill) => readingTimeMs(fill.clock, at))
    .map((ms): Span => [ms, ms]);
}

/** `H 9`, `h-9` and `hydrometer H9` name H9, as in the judging of readings. */
const same = (written: string, id: string): boolean => sameId(findMatchingId(written, [id]), id);
/** A LIKE pattern. Only A to Z are lower-cased alike on both engines; any other letter becomes a wildcard. */
const anyCase = (text: string): string =>
  [...text].map((letter) => (letter > '\u007f' ? '_' : letter.toLowerCase().replace(/[!%_]/, '!$&'))).join('');
