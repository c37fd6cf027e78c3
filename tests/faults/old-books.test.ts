import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { backUpFile, checkBookFile, restoreBook } from '#libs/store/backup/backup.js';
import { openBook } from '#libs/store/book.js';
import { findJar, findLot } from '#libs/store/queries/lots.js';
import { packageRoot } from '#libs/package-root.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { sugarhouse, recordOrThrow } from '../support/sugarhouse.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const fixtures = join(packageRoot, 'tests/fixtures');
const names = readdirSync(fixtures)
  .filter((name) => name.endsWith('.sqlite.gz'))
  .map((name) => name.slice(0, -'.sqlite.gz'.length));

interface OldBook {
  readonly entries: number;
  readonly root: string;
  readonly jars: readonly { readonly code: string; readonly pack: string; readonly n: number }[];
}

describe('A book of an older program', () => {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'boilbook-old-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const old = (name: string, as: string): { file: string; facts: OldBook } => {
    const file = join(folder, `${name}-${as}.sqlite`);
    writeFileSync(file, gunzipSync(readFileSync(join(fixtures, `${name}.sqlite.gz`))));
    return { file, facts: JSON.parse(readFileSync(join(fixtures, `${name}.json`), 'utf8')) as OldBook };
  };

  test('exists for this test', () => expect(names.length).toBeGreaterThan(0));

  test.each(names)('%s opens, has the root that was printed then, and can be written to', async (name) => {
    const { file, facts: result } = old(name, 'open');
    const book = await openBook({ file }, () => backUpFile(file, `${file}.before`));
    expect(await verifyBook(book, result)).toMatchObject({ ok: true, entries: result.entries, root: result.root });
    for (const { code, pack, n } of result.jars) expect(await findJar(book.read, code)).toMatchObject({ pack, n });
    expect(await findLot(sugarhouseReader(book.read, sugarhouse), '26077A-1')).toMatchObject({
      state: 'held',
      jars: 48,
      container: 'glass jar 8 fl oz',
    });
    await recordOrThrow(book, 'count', { id: 'C99', jars: '38' });
    expect(await verifyBook(book, result)).toMatchObject({ ok: true, entries: result.entries + 1 });
    await book.close();
  });

  test.each(names)('%s is restored as a backup', async (name) => {
    const { file, facts: result } = old(name, 'backup');
    expect(await checkBookFile(file)).toMatchObject({ entries: result.entries, root: result.root });
    const home = join(folder, `${name}-home.sqlite`);
    await restoreBook(file, home, '2026-05-01T22-00-00');
    const book = await openBook({ file: home });
    expect(await verifyBook(book, result)).toMatchObject({ ok: true });
    await book.close();
  });
});
