import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import sharp from 'sharp';
import { addPhoto } from '#libs/actions/photos/add-photo.js';
import { type Book, openBook } from '#libs/store/book.js';
import { canonicalJson } from '#libs/store/log/canonical.js';
import { indexTables } from '#libs/store/projection/index-tables.js';
import { readFrontier, readHead, walkLog } from '#libs/store/log/log.js';
import { growFrontier, leafHash } from '#libs/store/log/merkle.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { voidRecord } from '#libs/actions/record/void-record.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { startSeason, writeContext, done, sugarhouse, write, recordOrThrow } from '../support/sugarhouse.js';
import { engines } from '../support/engines.js';

describe.each(engines())('Verifying a book on $name', (engine) => {
  let fullBook: () => Promise<Book>;
  let bookWithVoid: () => Promise<Book>;
  beforeAll(async () => {
    await engine.start();
    // A row in every table of the index.
    fullBook = await engine.copiesOf(async (book) => {
      await startSeason(book);
      const jar = await book.read.row<{ code: string }>`SELECT code FROM jar WHERE n = 4`;
      await recordOrThrow(book, 'dispatch', { jars: jar?.code ?? '' });
      await recordOrThrow(book, 'count', { jars: '47' });
      done(await holdLot(book, writeContext(), '26077A-1', 'a lid that did not sit'));
    });
    bookWithVoid = await engine.copiesOf(async (book) => {
      await startSeason(book);
      const { id } = await recordOrThrow(book, 'gathering', { id: 'G9' });
      done(await voidRecord(book, writeContext(), 'gathering', id, 'entered twice'));
      const bytes = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#a62' } })
        .jpeg()
        .toBuffer();
      done(await addPhoto(book, writeContext(), { kind: 'pack', id: '26077A-1' }, { bytes, caption: 'seal' }));
    });
  });
  afterAll(() => engine.stop());

  /** Written without the program, as somebody with access to the file could. */
  const tampered = async (spoil: (sql: Sql) => Promise<unknown>, of = fullBook) => {
    const book = await of();
    await book.writeHousehold(async (sql) => {
      await spoil(sql);
    });
    const verified = await verifyBook(book);
    await book.close();
    return verified;
  };

  test('an untouched book verifies', async () => {
    expect(await tampered(async () => {})).toMatchObject({ ok: true, entries: 7 });
  });

  test('an added trigger or view is reported, and so is an entry before the first', async () => {
    expect(
      await tampered((sql) =>
        sql.engine === 'sqlite'
          ? sql.statement('CREATE TRIGGER planted AFTER INSERT ON entry BEGIN DELETE FROM shelf_count; END')
          : sql.statement('CREATE VIEW planted AS SELECT 1 AS one'),
      ),
    ).toMatchObject({ ok: false, firstDifference: expect.stringMatching(/^(trigger|view) planted/) });
    expect(
      await tampered(
        (sql) => sql.run`INSERT INTO entry (seq, sugarhouse, author, idempotency_key, sent, json, leaf)
          SELECT -3, sugarhouse, author, 'before', sent, json, leaf FROM entry WHERE seq = 1`,
      ),
    ).toMatchObject({ ok: false, firstDifference: expect.stringMatching(/^entry -3: /) });
  });

  const onLog: readonly (readonly [string, RegExp, (sql: Sql) => Promise<unknown>])[] = [
    [
      'a changed entry',
      /^entry 2: its text does not match its hash/,
      (sql) => sql.run`UPDATE entry SET json = REPLACE(json, '120 gal', '130 gal') WHERE seq = 2`,
    ],
    [
      'a changed entry with its hash made to fit',
      /^record_head: its root/,
      async (sql) => {
        const entry = await sql.row<{ json: string }>`SELECT json FROM entry WHERE seq = 2`;
        const json = (entry?.json ?? '').replaceAll('120 gal', '130 gal');
        await sql.run`UPDATE entry SET json = ${json}, leaf = ${leafHash(json)} WHERE seq = 2`;
      },
    ],
    [
      'a changed hash',
      /^entry 3: its text does not match its hash/,
      (sql) => sql.run`UPDATE entry SET leaf = ${'0'.repeat(64)} WHERE seq = 3`,
    ],
    ['a missing entry', /^entry 3: it is missing/, (sql) => sql.run`DELETE FROM entry WHERE seq = 3`],
    [
      'a missing last entry',
      /^record_head: it counts 7 entries, the log has 6/,
      (sql) => sql.run`DELETE FROM entry WHERE seq = 7`,
    ],
    [
      'an added entry',
      /^record_head: it counts 7 entries, the log has 8/,
      (sql) => addEntry(sql, (entry) => ({ ...entry, key: 'x' })),
    ],
    ['an added entry that is no entry', /^entry 8/, (sql) => addEntry(sql, () => null)],
    [
      'an added entry that means nothing',
      /^entry 8/,
      (sql) => addEntry(sql, (entry) => ({ ...entry, key: 'x', about: 5, record: { kind: 'pack' } })),
    ],
    [
      're-ordered entries',
      /^(record_head: its root|entry 2)/,
      async (sql) => {
        await sql.run`UPDATE entry SET seq = 99 WHERE seq = 2`;
        await sql.run`UPDATE entry SET seq = 2 WHERE seq = 3`;
        await sql.run`UPDATE entry SET seq = 3 WHERE seq = 99`;
      },
    ],
    [
      'a changed key of an entry',
      /^entry 4: column idempotency_key/,
      (sql) => sql.run`UPDATE entry SET idempotency_key = 'x' WHERE seq = 4`,
    ],
    ['a changed count in the head', /^record_head: it counts 6/, (sql) => sql.run`UPDATE record_head SET entries = 6`],
    [
      'a changed root in the head',
      /^record_head: its root/,
      (sql) => sql.run`UPDATE record_head SET frontier = ${JSON.stringify(['1'.repeat(64)])}`,
    ],
    ['a head that is not JSON', /^record_head/, (sql) => sql.run`UPDATE record_head SET frontier = 'soot'`],
    ['no head at all', /^record_head/, (sql) => sql.run`DELETE FROM record_head`],
  ];
  test.each(onLog)('%s is found and reported', async (_, sentence, spoil) => {
    const verified = await tampered(spoil);
    expect(verified.ok).toBe(false);
    expect(verified.firstDifference).toMatch(sentence);
  });

  test.each(indexTables.map((table) => [table.name, table] as const))(
    'a changed, missing or added row of %s is found and reported',
    async (name, table) => {
      const column = Object.entries(table.columns).find(
        ([column, kind]) => !table.key.includes(column) && /^(text|count)/.test(kind),
      );
      const [field, kind] = column ?? [table.key.at(-1) ?? '', 'key'];
      const quoted = field === 'by' ? '"by"' : field;
      const of = name === 'voided' || name === 'photo' ? bookWithVoid : fullBook;
      const changed = await tampered(
        (sql) => sql.statement(`UPDATE ${name} SET ${quoted} = ${kind.startsWith('count') ? '424242' : "'soot'"}`),
        of,
      );
      expect(changed).toMatchObject({
        ok: false,
        firstDifference: expect.stringMatching(new RegExp(`^table ${name}`)),
      });
      const missing = await tampered(async (sql) => {
        const key = table.key.at(-1) ?? '';
        await sql.statement(`DELETE FROM ${name} WHERE ${key} = (SELECT MAX(${key}) FROM ${name})`);
      }, of);
      expect(missing).toMatchObject({
        ok: false,
        firstDifference: expect.stringMatching(new RegExp(`^table ${name}: the row .* is missing`)),
      });
      const columns = Object.keys(table.columns).map((each) => (each === 'by' ? '"by"' : each));
      const extra = columns.map((each) => (each === 'sugarhouse' ? "'zz'" : each));
      const added = await tampered(
        (sql) =>
          sql.statement(`INSERT INTO ${name} (${columns.join(', ')}) SELECT ${extra.join(', ')} FROM ${name} LIMIT 1`),
        of,
      );
      expect(added).toMatchObject({
        ok: false,
        firstDifference: expect.stringMatching(new RegExp(`^table ${name}: the row .*zz.* does not come from the log`)),
      });
    },
  );

  test('the missing entry is reported, not its neighbour, also past the ninth entry of a lot', async () => {
    const book = await fullBook();
    for (let n = 10; n < 16; n++) await recordOrThrow(book, 'count', { id: `C${n}`, jars: '40' });
    await book.writeHousehold((sql) => sql.run`DELETE FROM lot_entry WHERE seq = 9`);
    expect((await verifyBook(book)).firstDifference).toBe('table lot_entry: the row home 26077A-1 9 is missing');
  });

  test('a root printed long ago still matches, and a rewritten log does not', async () => {
    const book = await fullBook();
    const printed = await readHead(book.read);
    for (let n = 10; n < 20; n++) await recordOrThrow(book, 'count', { id: `C${n}`, jars: '40' });
    expect(await verifyBook(book, printed)).toMatchObject({ ok: true, entries: 17 });
    expect(await verifyBook(book, { ...printed, root: printed.root.toUpperCase() })).toMatchObject({ ok: true });
    expect(await verifyBook(book, { root: (await readHead(book.read)).root, entries: 17 })).toMatchObject({ ok: true });
    expect((await verifyBook(book, { ...printed, entries: 6 })).firstDifference).toMatch(
      /^printed page: the root of the first 6/,
    );
    expect((await verifyBook(book, { ...printed, entries: 700 })).firstDifference).toMatch(/^printed page: it has 700/);

    // The whole log rewritten with matching hashes: only the printed page differs.
    await book.writeHousehold(async (sql) => {
      await sql.run`UPDATE record SET typed = REPLACE(typed, '120 gal', '130 gal') WHERE kind = 'gathering'`;
      const changed: [number, string][] = [];
      let frontier: string[] = [];
      for await (const row of walkLog(sql)) {
        const json = row.json.replaceAll('"volume":"120 gal"', '"volume":"130 gal"');
        frontier = growFrontier(frontier, changed.length, leafHash(json));
        changed.push([row.seq, json]);
      }
      for (const [seq, json] of changed)
        await sql.run`UPDATE entry SET json = ${json}, leaf = ${leafHash(json)} WHERE seq = ${seq}`;
      await sql.run`UPDATE record_head SET frontier = ${JSON.stringify(frontier)}`;
    });
    expect(await verifyBook(book)).toMatchObject({ ok: true });
    expect((await verifyBook(book, printed)).firstDifference).toMatch(/^printed page/);
  });

  test('the index dropped and replayed gives the same tables', async () => {
    const book = await fullBook();
    const before = await tablesOf(book.read);
    const head = await readHead(book.read);
    await book.writeHousehold(async (sql) => {
      for (const table of indexTables) await sql.statement(`DROP TABLE ${table.name}`);
      await sql.run`UPDATE record_head SET index_version = 0`;
    });
    await book.close();
    let request = 0;
    const again = await openBook(book.location, async () => void request++);
    expect(request).toBe(1);
    expect(await tablesOf(again.read)).toEqual(before);
    expect(await readHead(again.read)).toEqual(head);
    expect(await verifyBook(again)).toMatchObject({ ok: true });
    // It continues where it stopped.
    expect(await recordOrThrow(again, 'count', { id: 'C77' })).toMatchObject({ entry: 8 });
    await again.close();
  });

  test('a book of a newer version is refused and left unchanged', async () => {
    for (const newer of [
      (sql: Sql) => sql.run`INSERT INTO migrations (timestamp, name) VALUES (4102444800000, 'Newer4102444800000')`,
      (sql: Sql) => sql.run`UPDATE record_head SET index_version = 4242`,
    ]) {
      const book = await fullBook();
      await book.writeHousehold(newer);
      await book.close();
      await expect(openBook(book.location)).rejects.toThrow(/written by a newer version of Boilbook/);
    }
  });

  test('the writer still works after a write that the database refuses', async () => {
    const book = await fullBook();
    await expect(
      book.write(async ({ sql }) => {
        await sql.statement('SELECT no_such_column FROM lot');
        return {};
      }),
    ).rejects.toThrow();
    expect(await write(book, 'count', { id: 'C78' })).toMatchObject({ outcome: 'new' });
    expect((await readFrontier(book.read)).entries).toBe(8);
  });
});

async function addEntry(sql: Sql, change: (entry: Record<string, unknown>) => unknown): Promise<void> {
  const last = await sql.row<{
    json: string;
    author: string;
    sent: string;
  }>`SELECT json, author, sent FROM entry WHERE seq = 7`;
  const json = canonicalJson(change(JSON.parse(last?.json ?? '{}') as Record<string, unknown>));
  await sql.run`INSERT INTO entry (seq, sugarhouse, author, idempotency_key, sent, json, leaf)
    VALUES (8, ${sugarhouse}, ${last?.author ?? ''}, 'x', ${last?.sent ?? ''}, ${json}, ${leafHash(json)})`;
}

async function tablesOf(sql: Sql): Promise<Record<string, unknown>> {
  const tables: Record<string, unknown> = {};
  for (const table of indexTables)
    tables[table.name] = await sql.statement(`SELECT * FROM ${table.name} ORDER BY ${table.key.join(', ')}`);
  return tables;
}
