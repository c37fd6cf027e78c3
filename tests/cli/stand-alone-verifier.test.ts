import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { packageRoot } from '#libs/package-root.js';
import { canonicalJson } from '#libs/store/log/canonical.js';
import { parseEntry } from '#libs/store/log/entry-json.js';
import { leafHash, treeHash } from '#libs/store/log/merkle.js';
import type { Entry } from '#libs/records/entry.js';
import { inProcessTerminal, type Terminal } from '../support/command-line.js';

interface Exported {
  entries: number;
  root: string;
  log: { seq: number; leaf: string; text: string }[];
  lots: { lot: string; state: string; heldSince: string | null; holds: string[] }[];
}

describe('The verifier that an inspector runs alone', () => {
  let terminal: Terminal;
  let exported: Exported;
  let verifier = '';
  beforeAll(async () => {
    terminal = inProcessTerminal();
    await terminal.json('demo');
    await terminal.json('export', '--out', terminal.path('record.json'));
    await terminal.json('verify', '--stand-alone', terminal.path('check.mjs'));
    // In a folder that contains nothing of the program.
    mkdirSync(terminal.path('elsewhere'));
    verifier = terminal.path('elsewhere/check.mjs');
    cpSync(terminal.path('check.mjs'), verifier);
    exported = JSON.parse(readFileSync(terminal.path('record.json'), 'utf8')) as Exported;
  }, 60_000);
  afterAll(() => terminal.remove());

  function verify(text: string, ...options: string[]) {
    const file = terminal.path('elsewhere/record.json');
    writeFileSync(file, text);
    const { status, stdout, stderr } = spawnSync(process.execPath, [verifier, file, ...options], {
      cwd: terminal.path('elsewhere'),
      encoding: 'utf8',
    });
    return { exit: status, out: stdout, err: stderr };
  }

  /** A copy of the export that `change` has tampered with. */
  function tampered(change: (copy: Exported) => void, { forged = false } = {}): string {
    const copy = structuredClone(exported);
    change(copy);
    return JSON.stringify(forged ? recomputed(copy) : copy);
  }

  /** What somebody who knows the format would do next: make numbers, hashes, count and root match. */
  function recomputed(copy: Exported): Exported {
    const log = copy.log.map(({ text }, n) => ({ seq: n + 1, leaf: leafHash(text), text }));
    return { ...copy, log, entries: log.length, root: treeHash(log.map(({ leaf }) => leaf)) };
  }
  const edit = (copy: Exported, seq: number, change: (entry: Mutable) => void): void => {
    const line = copy.log[seq - 1]!;
    const entry = JSON.parse(line.text) as Mutable;
    change(entry);
    line.text = canonicalJson(entry);
  };
  type Mutable = { -readonly [K in keyof Entry]: Entry[K] };
  const seqWhere = (is: (entry: Entry) => boolean): number =>
    exported.log.find(({ text }) => is(parseEntry(text)))!.seq;
  const coldPack = (): number =>
    seqWhere(({ judged }) => judged?.some(({ lot, state }) => lot === '26071A-2' && state === 'held') ?? false);

  test('finds nothing wrong with the practice season, and computes the root that verify prints', async () => {
    const ours = await terminal.json<{ root: string; entries: number }>('verify');
    const found = verify(JSON.stringify(exported), '--against', ours.root, '--entries', String(ours.entries));
    expect(found).toMatchObject({ exit: 0, err: '' });
    expect(found.out).toContain(`${ours.entries} entries, root ${ours.root}`);
    expect(found.out).toMatch(/26079A-1 is held since .+: density-too-thin/);
    expect(found.out).toMatch(/26092A-1 is recalled/);
    expect(found.out).toContain('The record matches the printed page.');
  });

  test('imports nothing but Node’s own modules', () => {
    const imports = [...readFileSync(verifier, 'utf8').matchAll(/\bfrom '([^']+)'|\bimport\(|\brequire\(/g)];
    expect(imports.map(([, of]) => of)).toEqual(['node:crypto', 'node:fs']);
  });

  test.each(['book-2026-11', 'book-2026-11-b'])('reads %s, exported by an older program', async (name) => {
    const old = terminal.at(`old-${name}`);
    mkdirSync(old.book);
    writeFileSync(
      join(old.book, 'book.sqlite'),
      gunzipSync(readFileSync(join(packageRoot, `tests/fixtures/${name}.sqlite.gz`))),
    );
    const { out } = await old.run('export', '--out', '-');
    expect(verify(out)).toMatchObject({ exit: 0, err: '' });
    const lines = await old.run('log', '--out', '-');
    expect(verify(lines.out)).toMatchObject({ exit: 0, err: '' });
  });

  test.each<[string, (copy: Exported) => void, RegExp]>([
    [
      'a changed number',
      (copy) => edit(copy, 22, ({ record }) => Object.assign(record!.body, { jars: 31 })),
      /Entry 22 was changed: the hash of its text is/,
    ],
    ['a removed entry', (copy) => copy.log.splice(59, 1), /Entry 60 is missing: entry 61 follows instead/],
    ['the last entry removed', (copy) => copy.log.pop(), /states 168 entries but contains 167/],
    [
      'two entries that changed places',
      (copy) => ([copy.log[24], copy.log[25]] = [copy.log[25]!, copy.log[24]!]),
      /Entry 26 stands where entry 25 belongs: the order was changed/,
    ],
    [
      'a hold taken out of the list of lots',
      (copy) =>
        Object.assign(
          copy.lots.find(({ lot }) => lot === '26079A-1')!,
          { state: 'open', heldSince: null },
        ),
      /Lot 26079A-1 is listed as open, but by its entries it is held/,
    ],
    [
      'a lot taken out of the list',
      (copy) => (copy.lots = copy.lots.filter(({ lot }) => lot !== '26092A-1')),
      /Lot 26092A-1 is missing from the list/,
    ],
    ['another root', (copy) => (copy.root = createHash('sha256').digest('hex')), /its entries give/],
  ])('reports %s in a sentence, exit 4', (_, change, sentence) => {
    const found = verify(tampered(change));
    expect(found.exit).toBe(4);
    expect(found.err).toMatch(/^Check failed: \d+ differences?:\n- /);
    expect(found.err).toMatch(sentence);
    expect(found.err).not.toMatch(/\n\s+at /);
  });

  /** The tampered export has matching hashes: only the meaning of its entries can still reveal it. */
  test.each<[string, (copy: Exported) => void, RegExp]>([
    [
      'a lot left open though a rule holds it',
      (copy) => edit(copy, coldPack(), (entry) => Object.assign(entry.judged![0]!, { state: 'open' })),
      /26071A-2 is open, though fill-temperature holds it/,
    ],
    [
      'a hold taken out with what was found',
      (copy) =>
        edit(copy, coldPack(), (entry) =>
          Object.assign(entry.judged![0]!, { state: 'open', verdict: { ...entry.judged![0]!.verdict, findings: [] } }),
        ),
      /26071A-2 is open, though a jar was read at 178 °F when capped/,
    ],
    [
      'a hold by hand that was taken out',
      (copy) =>
        edit(
          copy,
          seqWhere(({ entryType }) => entryType === 'hold'),
          (entry) => Object.assign(entry.judged![0]!, { state: 'open' }),
        ),
      /it holds 26092A-1, but the lot is not held after it/,
    ],
    [
      'a recall that was taken back',
      (copy) => edit(copy, 165, (entry) => Object.assign(entry.judged![0]!, { state: 'held' })),
      /26092A-1 was recalled and is now held/,
    ],
    [
      'a release that was taken out',
      (copy) => copy.log.splice(seqWhere(({ entryType }) => entryType === 'release') - 1, 1),
      /26071A-2 is released: entry 63 left it held, and no later entry released it/,
    ],
    [
      'a boil removed from under its packs',
      (copy) => copy.log.splice(19, 1),
      /Entry 20: it follows entry 20 of boil 26065A, whose last entry here is missing/,
    ],
    [
      'an entry written twice',
      (copy) => copy.log.push(copy.log[166]!),
      /Entry 169: it has the same idempotency key as entry 167/,
    ],
  ])('detects %s with all hashes recomputed', (_, change, sentence) => {
    const found = verify(tampered(change, { forged: true }));
    expect(found.exit).toBe(4);
    expect(found.err).toMatch(sentence);
  });

  test('detects a changed number with all hashes recomputed only against a printed root', () => {
    const change = (copy: Exported) => edit(copy, 22, ({ record }) => Object.assign(record!.body, { note: 'none' }));
    const forged = tampered(change, { forged: true });
    expect(verify(forged).exit).toBe(0);
    const found = verify(forged, '--against', exported.root, '--entries', '168');
    expect(found.exit).toBe(4);
    expect(found.err).toContain('The first 168 entries are not those of the printed page');
  });

  test('refuses a file that is no export with a sentence, exit 2', () => {
    for (const text of ['', 'not JSON', '[]', '{}', '{"format":"boilbook-record-1"}', 'null']) {
      const found = verify(text);
      expect([text, found.exit]).toEqual([text, 2]);
      expect(found.err).toMatch(/^The file is .+\.\n$/);
    }
    const emptied = verify(tampered((copy) => Object.assign(copy.log, [null])));
    expect([emptied.exit, emptied.err.includes('    at ')]).toEqual([4, false]);
    expect(verify('{}', '--against', 'abc').err).toMatch(/^Usage: /);
  });
});
