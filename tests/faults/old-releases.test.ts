import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { changeHouse } from '#libs/actions/record/change-house.js';
import { exportRecord } from '#libs/store/log/export-record.js';
import { packageRoot } from '#libs/package-root.js';
import { backUpFile } from '#libs/store/backup/backup.js';
import { type Book, openBook } from '#libs/store/book.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { findLot } from '#libs/store/queries/lots.js';
import { done, writeContext } from '../support/sugarhouse.js';
import { judgedAgain, judgedNow, standing } from '../support/accepted-lots.js';
import { acceptable } from '../verdicts/accepted-cases.js';

const fixtures = join(packageRoot, 'tests/fixtures/releases');
const names = readdirSync(fixtures).flatMap((name) => (name.endsWith('.json') ? [name.slice(0, -5)] : []));

interface ReleasedBook {
  readonly entries: number;
  readonly root: string;
  readonly lots: readonly {
    readonly is: string;
    readonly house: string;
    readonly lot: string;
    readonly accepted: readonly { readonly rule: string; readonly found: string }[];
  }[];
}
const factsOf = (name: string) => JSON.parse(readFileSync(join(fixtures, `${name}.json`), 'utf8')) as ReleasedBook;

test('the oldest book has a lot for each finding that a release might accept then', () => {
  const since = [
    'splinters in syrup poured from a pack in which glass broke',
    'a shard of glass in a jar of another pack of the same boil',
  ];
  expect([...factsOf('book-2026-11').lots.map(({ is }) => is), ...since].sort()).toEqual(
    acceptable.map(({ is }) => is).sort(),
  );
});

const now = new Date('2026-05-02T12:00:00Z');
describe.each(names)('Lots released in %s', (name) => {
  const { lots, ...head } = factsOf(name);
  let folder = '';
  let book: Book;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'boilbook-releases-'));
    const file = join(folder, 'book.sqlite');
    writeFileSync(file, gunzipSync(readFileSync(join(fixtures, `${name}.sqlite.gz`))));
    book = await openBook({ file }, () => backUpFile(file, `${file}.before`));
    expect(await verifyBook(book, head)).toMatchObject({ ok: true, ...head });
    // The books are older than the question what is printed on the hydrometer.
    for (const house of new Set(lots.map((each) => each.house)))
      done(await changeHouse(book, writeContext({ sugarhouse: house, now }), { hydrometerMadeFor: '60 F' }, ''));
  });
  afterAll(async () => {
    await book.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test.each(lots)('$is: it stays released, in the words that were accepted', async ({ house, lot, accepted }) => {
    const released = { state: 'released', holds: [], accepted };
    expect(standing(await judgedNow({ book, clock: { now } }, { house, code: lot }))).toEqual(released);
    await judgedAgain({ book, clock: { now } }, { house, code: lot });
    expect(standing(await findLot(sugarhouseReader(book.read, house), lot))).toEqual(released);
  });

  test('the book and the stand-alone verifier agree with what was stored since', async () => {
    expect(await verifyBook(book, head)).toMatchObject({ ok: true });
    const file = join(folder, 'record.json');
    const text: string[] = [];
    await book.snapshot(async (sql) => {
      for await (const piece of exportRecord(sql, now)) text.push(piece);
    });
    writeFileSync(file, text.join(''));
    const verifier = join(packageRoot, 'apps/verifier/verify-record.mjs');
    const { status, stderr } = spawnSync(process.execPath, [verifier, file], { encoding: 'utf8' });
    expect([status, stderr]).toEqual([0, '']);
  });
});
