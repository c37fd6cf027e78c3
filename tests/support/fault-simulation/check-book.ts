import type { Book } from '#libs/store/book.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { readHead } from '#libs/store/log/log.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { Verdict } from '#libs/syrup/rules/verdict.js';
import type { Model } from './model.js';

/** How the book differs from the model, in a sentence: the number of entries, and the state of each lot. */
export async function differenceFrom(book: Book, model: Model, begun: number): Promise<string | undefined> {
  const { entries } = await readHead(book.read);
  if (entries - begun !== model.entries) return `entries: expected ${model.entries}, the book has ${entries - begun}`;
  const rows = await book.read.rows<{
    code: string;
    state: string;
    verdict: string | null;
  }>`SELECT code, state, verdict FROM lot
    WHERE kind IN ('boil', 'pack')`;
  const lots = new Map(rows.map((row) => [row.code, row]));
  const expected = [...model.boils, ...model.packs];
  if (lots.size !== expected.length)
    return `lots: expected ${expected.map(([code]) => code).join(' ')}, the book has ${[...lots.keys()].join(' ')}`;
  for (const [code, { state }] of expected)
    if (lots.get(code)?.state !== state)
      return `${code}: expected ${state}, the book has ${lots.get(code)?.state ?? 'no such lot'} ${stopsOf(lots.get(code)?.verdict)}`;
  return undefined;
}

const stopsOf = (verdict: string | null | undefined): string =>
  ((JSON.parse(verdict ?? '{}') as Partial<Verdict>).findings ?? [])
    .flatMap(({ stop, rule, found }) => (stop ? `(${rule}: ${found})` : []))
    .join(' ');

/** Checks everything saved, record by record; throws if one is missing or differs from what was sent. */
export async function checkBook(book: Book, model: Model): Promise<void> {
  const typed = async (kind: 'gathering' | 'boil' | 'pack' | 'dispatch', id: string) =>
    (await findRecord(sugarhouseReader(book.read, 'home'), kind, id))?.typed;
  const wrong: string[] = [];
  for (const [id, gallons] of model.gatherings)
    if ((await typed('gathering', id))?.['volume'] !== `${gallons} gal`) wrong.push(`gathering ${id}`);
  for (const [code, { id }] of model.boils) if ((await typed('boil', code))?.['id'] !== id) wrong.push(`boil ${code}`);
  for (const [id, { jars, isVoid }] of model.dispatches)
    if ((await typed('dispatch', id))?.['jars'] !== (isVoid ? undefined : String(jars))) wrong.push(`dispatch ${id}`);
  for (const [code, { id, jars, gone, counted }] of model.packs) {
    if ((await typed('pack', code))?.['id'] !== id) wrong.push(`pack ${code}`);
    const [{ n } = { n: -1 }] = await book.read.rows<{
      n: number | string;
    }>`SELECT COUNT(*) AS n FROM jar WHERE pack = ${code}`;
    if (Number(n) !== jars) wrong.push(`jars of ${code}: ${n}, not ${jars}`);
    const balance = await balanceOf(sugarhouseReader(book.read, 'home'), code, utcOf('2027-01-01T00:00:00Z'));
    if (balance.sentOut !== gone) wrong.push(`sent of ${code}: ${balance.sentOut}, not ${gone}`);
    if (counted === undefined && balance.onHand !== jars - gone) wrong.push(`on hand of ${code}: ${balance.onHand}`);
  }
  if (wrong.length > 0) throw new Error(`not as it was kept: ${wrong.join(', ')}`);
}
