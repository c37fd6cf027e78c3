import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { importRows } from '#libs/actions/import/import-rows.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import type { Book } from '#libs/store/book.js';
import { parseEntry } from '#libs/store/log/entry-json.js';
import { walkLog } from '#libs/store/log/log.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { inventSeason } from '../generator/invent-season.js';
import { engines } from '../support/engines.js';

const season = inventSeason(11, 20);
const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: season.now, zone: 'America/New_York' };

describe.each(engines())('packs that a file judges several times on $name', (engine) => {
  beforeAll(() => engine.start());
  afterAll(() => engine.stop());

  const take = async (book: Book, plural: string, text: string): Promise<void> => {
    const kind = importKinds.find((each) => each.plural === plural)!;
    const done = await importRows(book, context, kind, Buffer.from(text));
    expect([plural, done.faults, done.refusals]).toEqual([plural, [], []]);
  };
  const withPacks = async (): Promise<Book> => {
    const book = await engine.freshBook();
    for (const { kind, text } of season.files)
      if (kind !== 'dispatches' && kind !== 'counts') await take(book, kind, text);
    return book;
  };
  /** Number, lots and verdicts of each entry about a dispatch; a pack's seed is random, but is in no verdict. */
  const verdicts = async (book: Book): Promise<unknown[]> => {
    const all: unknown[] = [];
    for await (const { json, seq } of walkLog(book.read)) {
      const { record, judged } = parseEntry(json);
      if (record?.kind === 'dispatch') all.push({ seq, judged });
    }
    return all;
  };

  test('get the verdicts that each dispatch alone would give them, before and after jars were destroyed', async () => {
    const [together, single] = [await withPacks(), await withPacks()];
    const packs = await together.read.rows<{ code: string }>`SELECT code FROM lot WHERE kind = 'pack' AND jars > 8
      ORDER BY code LIMIT 12`;
    expect(packs.length).toBe(12);
    const header = 'id,lot,kind,jars,to,sent_at,by';
    const rows = packs.flatMap(({ code }, n) => [
      `A${n},${code},retained,1,cellar shelf,2026-06-01T09:00,JP`,
      `B${n},${code},destroyed,jars 3-4,sugarhouse drain,2026-06-02T09:00,JP`,
      `C${n},${code},retained,1,cellar shelf,2026-06-03T09:00,JP`,
    ]);
    await take(together, 'dispatches', [header, ...rows].join('\n'));
    // In the order in which a file writes its rows: by time.
    const byTime = [...rows].sort((a, b) => (/2026\S+?,/.exec(a)![0] < /2026\S+?,/.exec(b)![0] ? -1 : 1));
    for (const row of byTime) await take(single, 'dispatches', [header, row].join('\n'));
    const found = await verdicts(together);
    expect(found).toHaveLength(36);
    expect(JSON.stringify(found)).toContain('"gone":');
    expect(found).toEqual(await verdicts(single));
    expect(await verifyBook(together)).toMatchObject({ ok: true });
  }, 120_000);
});
