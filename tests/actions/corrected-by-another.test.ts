import { afterAll, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { importRows } from '#libs/actions/import/import-rows.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import type { Book } from '#libs/store/book.js';
import type { RecordRow } from '#libs/records/entry.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { entriesOfRecord } from '#libs/store/log/history-of-record.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { startSeason, writeContext, done, sugarhouse, recordOrThrow } from '../support/sugarhouse.js';
import { eachKind } from '../support/each-kind.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const wrote = { by: 'JP', author: 'JP', now: new Date('2026-05-01T22:00:00Z') };
const corrects = { by: 'WE', author: 'WE', now: new Date('2026-06-10T12:00:00Z') };
const allKinds = [...kindByName.keys()].filter((name) => name !== 'house');

describe.each(engines())('Who did it and when, on $name', (engine) => {
  // One way in for all kinds: SQLite tries every kind, PostgreSQL each fourth.
  const kinds = engine.name === 'SQLite' ? allKinds : allKinds.filter((_, n) => n % 4 === 0);
  let book: Book;
  let begun: () => Promise<Book>;
  beforeAll(async () => {
    await engine.start();
    begun = await engine.copiesOf(async (fresh) => {
      await startSeason(fresh);
      await recordOrThrow(fresh, 'gathering', { id: 'G800', volume: '20 gal' });
      await recordOrThrow(fresh, 'dispatch', { id: 'S800', jars: '1', alreadyLeft: 'yes' });
    });
  });
  afterAll(() => engine.stop());
  beforeEach(async () => {
    book = await begun();
  });

  const saved = async (kind: RecordKind, id: string) => {
    const found = await findRecord(sugarhouseReader(book.read, sugarhouse), kind, id);
    if (!found) throw new Error(`no ${kind} ${id}`);
    const { by, at, atUtc, year } = found;
    const body = found.body as { by?: string; at?: string };
    return { by, at, atUtc, year, bodyBy: body.by, bodyAt: body.at };
  };
  const recorded = async (kind: RecordKind, more: Record<string, string> = {}) =>
    done(await record(book, writeContext(wrote), kindByName.get(kind)!, { ...eachKind[kind].sent, ...more }));
  const corrected = (kind: RecordKind, entry: number, changes?: Record<string, string>) => {
    const [field, text] = eachKind[kind].correct;
    return correctEntry(
      book,
      writeContext(corrects),
      String(entry),
      'read it wrong',
      changes ?? { [field]: text },
    ).then(done);
  };

  test.each(kinds)('a %s corrected by another person keeps its writer and its time', async (kind) => {
    const { id, entry } = await recorded(kind);
    const before = await saved(kind, id);
    expect([before.by, before.bodyBy]).toEqual(['JP', 'JP']);
    expect((await corrected(kind, entry)).outcome).toBe('corrected');
    expect(await saved(kind, id)).toEqual(before);
    const history = await entriesOfRecord(sugarhouseReader(book.read, sugarhouse), kind, id);
    expect(history.map(({ by, entryType }) => [by, entryType])).toEqual([
      ['JP', kind === 'action' ? 'act' : 'record'],
      ['WE', 'correct'],
    ]);
    expect(await verifyBook(book)).toMatchObject({ ok: true });
  });

  test.each(kinds)('a correction of who did a %s changes it, and can change it back to the writer', async (kind) => {
    const { id, entry } = await recorded(kind, { by: 'OE' });
    expect(await saved(kind, id)).toMatchObject({ by: 'OE', bodyBy: 'OE' });
    await corrected(kind, entry, { by: 'Wren Ellery' });
    expect(await saved(kind, id)).toMatchObject({ by: 'Wren Ellery', bodyBy: 'Wren Ellery' });
    if (kindByName.get(kind)?.fields['by']?.needed) return;
    await corrected(kind, entry, { by: '' });
    expect(await saved(kind, id)).toMatchObject({ by: 'JP', bodyBy: 'JP' });
  });

  test('a correction of the time changes it; otherwise the time is that of the first entry', async () => {
    const { id, entry } = await recorded('action');
    const before = await saved('action', id);
    expect(before.at).toBe('2026-05-01T18:00:00-04:00');
    await corrected('action', entry, { at: '2026-04-30T15:00' });
    expect((await saved('action', id)).bodyAt).toBe('2026-04-30T15:00:00-04:00');
    await corrected('action', entry, { at: '' });
    expect(await saved('action', id)).toEqual(before);
  });

  test('a correction of the sugarhouse’s details changes neither who set it up nor when', async () => {
    const before = await saved('house', 'house');
    const [field, text] = eachKind.house.correct;
    const first = (await entriesOfRecord(sugarhouseReader(book.read, sugarhouse), 'house', 'house'))[0]?.seq ?? 0;
    done(
      await correctEntry(book, writeContext({ ...corrects, by: 'OE' }), String(first), 'a new number', {
        [field]: text,
      }),
    );
    expect(await saved('house', 'house')).toEqual(before);
  });

  test('an addition changes neither', async () => {
    const { id } = await recorded('spent');
    const before = await saved('spent', id);
    const added = await record(
      book,
      writeContext(corrects),
      kindByName.get('spent')!,
      { why: 'a party' },
      { add: true, of: id },
    );
    expect(done(added).outcome).toBe('added');
    expect(await saved('spent', id)).toEqual(before);
  });

  test('a correcting file without a column for initials leaves them as they were; the history says who imported it', async () => {
    await recordOrThrow(book, 'count', { by: 'OE' }, wrote);
    const file = Buffer.from('id,lot,jars,counted_at\nC01,26077A-1,35,2026-04-20T18:00\n');
    const counts = kindByName.get('count')!;
    expect(await importRows(book, writeContext(corrects), counts, file, { why: 'counted again' })).toMatchObject({
      corrected: 1,
    });
    expect(await saved('count', 'C01')).toMatchObject({ by: 'OE', bodyBy: 'OE' });
    const named = Buffer.from('id,lot,jars,counted_at,by\nC01,26077A-1,34,2026-04-20T18:00,OE\n');
    expect(await importRows(book, writeContext(corrects), counts, named, { why: 'one broke' })).toMatchObject({
      corrected: 1,
    });
    const history = await entriesOfRecord(sugarhouseReader(book.read, sugarhouse), 'count', 'C01');
    expect(history.map((each) => each.by)).toEqual(['JP', 'WE', 'WE']);
  });

  test.each(['action', 'spent', 'count', 'check'] as const)(
    'a %s to which an older program gave the corrector’s initials and time is read with those of its first entry',
    async (kind) => {
      const { id, entry } = await recorded(kind);
      const before = await saved(kind, id);
      await corrected(kind, entry);
      const [first, last] = await entriesOfRecord(sugarhouseReader(book.read, sugarhouse), kind, id);
      if (!last?.record || !first) throw new Error('no correction');
      const { seq, ...written } = last;
      const at = '2026-06-10T08:00:00-04:00';
      const body = { ...(last.record.body as object), by: 'WE', ...(before.bodyAt ? { at } : {}) };
      await book.write(async (page) => ({
        entry: await page.append({
          ...written,
          key: 'as an older program wrote it',
          happenedAt: before.bodyAt ? at : written.happenedAt,
          corrects: seq,
          record: { ...last.record!, body } as RecordRow,
        }),
      }));
      expect(await saved(kind, id)).toEqual(before);
      expect(await verifyBook(book)).toMatchObject({ ok: true });
    },
  );
});
