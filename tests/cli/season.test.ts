import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { readPdf } from '../support/read-pdf.js';
import {
  inProcessTerminal,
  importPracticeSeason,
  headOf,
  seasonFile,
  setUp,
  type Terminal,
} from '../support/command-line.js';

interface Jars {
  readonly made: number;
  readonly onHand: number;
  readonly sentOut: number;
  readonly destroyed: number;
  readonly other: number;
  readonly unaccounted: number | null;
}
interface Traced {
  readonly code: string;
  readonly kind: string;
  readonly pack: string | null;
  readonly boils: string[];
  readonly gatherings: string[];
  readonly jars: Jars;
  readonly dispatches: { readonly id: string }[];
  readonly status: string;
  readonly jarList?: { readonly code: string; readonly pack: string }[];
  readonly [field: string]: unknown;
}
interface Line {
  readonly lot: string;
  readonly boils: string[];
  readonly findings: { readonly rule: string; readonly stop: boolean }[];
  readonly [field: string]: unknown;
}
interface Summary {
  readonly year: number;
  readonly lots: Line[];
  readonly totals: Record<string, number>;
  readonly record: { readonly entries: number; readonly root: string };
}

let terminal: Terminal;
beforeAll(async () => {
  terminal = inProcessTerminal();
  await importPracticeSeason(terminal);
}, 180_000);
afterAll(() => terminal.remove());

/** A file of the season with one row or text changed, in the terminal's own folder. */
function fileWith(name: string, text: string): string {
  writeFileSync(terminal.path(name), text);
  return terminal.path(name);
}

describe('importing files', () => {
  test('the same files imported twice change nothing', async () => {
    const before = await headOf(terminal);
    for (const { plural: kind } of importKinds) {
      const again = await terminal.json('import', kind, seasonFile(kind));
      expect(again).toMatchObject({ kind, written: 0, corrected: 0, same: again['rows'], dryRun: false });
    }
    expect(await headOf(terminal)).toEqual(before);
    expect(before.entries).toBe(101);
    expect(await terminal.json('verify')).toEqual({ ok: true, ...before });
    expect(before.root).toMatch(/^[0-9a-f]{64}$/);
  });

  test('a bad row stops the whole file, with every fault by line and column', async () => {
    const before = await headOf(terminal);
    const bad = fileWith(
      'bad.csv',
      'id,gathered_at,source,volume,sugar\nG900,2026-03-30T10:00,North slope,50 gal,2 Bx\n' +
        'G901,2026-03-08T02:30,North slope,"1,200 gal",2\n',
    );
    const formatted = await terminal.run('import', 'gatherings', bad, '--json');
    expect(formatted).toMatchObject({ exit: 2, out: '' });
    const faults = formatted.err.trim().split('\n');
    expect(faults).toHaveLength(3);
    expect(faults.find((each) => each.startsWith('Line 3, gathered_at: expected'))).toContain('2026-03-08T02:30');
    expect(faults.find((each) => each.startsWith('Line 3, volume: expected'))).toContain('"1,200 gal"');
    expect(faults.find((each) => each.startsWith('Line 3, sugar: expected'))).toContain('"2"');
    expect(await headOf(terminal)).toEqual(before);
  });

  test('an unknown lot, an unknown kind and a missing file are refused', async () => {
    const unknownColumn = fileWith(
      'stray.csv',
      'id,lot,jars,sent_at,to\nS900,26300A-1,2,2026-05-01T09:00,Millrace Green market\n',
    );
    const formatted = await terminal.run('import', 'dispatches', unknownColumn);
    expect(formatted).toMatchObject({ exit: 2, out: '' });
    expect(formatted.err).toContain('Line 2, lot: expected a pack of this book, got "26300A-1"');
    expect(await terminal.run('import', 'jars', unknownColumn)).toMatchObject({ exit: 2, out: '' });
    expect(await terminal.run('import', 'counts', terminal.path('none.csv'))).toMatchObject({ exit: 3, out: '' });
  });

  test('a dry run writes nothing; different content is a fault that shows both, or a correction with its reason', async () => {
    const before = await headOf(terminal);
    const changed = fileWith('changed.csv', 'id,lot,jars,counted_at,by\nC11,26115X-1,12,2026-06-01T18:50,OE\n');
    const refused = await terminal.run('import', 'counts', changed);
    expect(refused).toMatchObject({ exit: 2, out: '' });
    expect(refused.err).toMatch(/Line 2, jars: expected "13".*, got "12"/);
    const tried = await terminal.json('import', 'counts', changed, '--correct', 'one jar behind the drum', '--dry-run');
    expect(tried).toMatchObject({ corrected: 1, dryRun: true });
    expect(await headOf(terminal)).toEqual(before);
    const corrected = await terminal.json('import', 'counts', changed, '--correct', 'one jar behind the drum');
    expect(corrected).toMatchObject({ rows: 1, written: 0, corrected: 1, same: 0, ids: ['C11'] });
    const lot = await terminal.json<Traced>('trace', '26115X-1');
    expect(lot.jars).toMatchObject({ onHand: 12, unaccounted: 1 });
    await terminal.json('correct', 'C11', '--why', 'found it', 'jars=13');
    expect((await terminal.json<Traced>('trace', '26115X-1')).jars).toMatchObject({ onHand: 13, unaccounted: 0 });
  });
});

describe('a trace of a jar', () => {
  test('up through the drum and its blend to two boils and their sap, and down to every jar', async () => {
    const down = await terminal.json<Traced>('trace', '26115x-1', '--down');
    expect(down.jarList).toHaveLength(23);
    const jar = down.jarList![7]!.code;
    expect(jar).toMatch(/^[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}$/);
    const up = await terminal.json<Traced>('trace', jar.replace('-', '').toLowerCase());
    for (const field of ['code', 'kind', 'pack', 'boils', 'gatherings', 'jars', 'dispatches', 'status'])
      expect(up).toHaveProperty(field);
    expect(up).toMatchObject({ code: jar.replace('-', ''), kind: 'jar', pack: '26115X-1', status: 'open' });
    expect(up.boils).toEqual(expect.arrayContaining(['26085A', '26088A']));
    // 3.5 and 2.5 gal were poured into the drum, whose 6 gal were all packed.
    expect(up['shares']).toMatchObject([{ lot: '26085A' }, { lot: '26088A' }]);
    const parts = (up['shares'] as { part: number }[]).map((share) => share.part);
    expect(parts[0]).toBeCloseTo(3.5 / 6, 6);
    expect(parts[1]).toBeCloseTo(2.5 / 6, 6);
    expect(up.gatherings).toEqual(expect.arrayContaining(['R002', 'G018', 'G019', 'G020', 'G021']));
    expect(up.dispatches.map((each) => each.id)).toEqual(['S22', 'S29']);
  });

  test('from bought syrup and from sap down to the packs, with its jars reconciled', async () => {
    const boil = await terminal.json<Traced>('trace', '26079A', '--down');
    expect(boil).toMatchObject({ kind: 'boil', pack: null });
    const sap = await terminal.json<Traced>('trace', 'G001');
    expect(sap).toMatchObject({ kind: 'sap', pack: null });
    expect(sap.boils).toContain('26065A');
    const bought = await terminal.json<Traced>('trace', 'R001');
    expect(bought.jars.made).toBe(46);
    for (const { jars } of [boil, sap, bought])
      expect(jars.made).toBe(jars.onHand + jars.sentOut + jars.destroyed + jars.other + (jars.unaccounted ?? 0));
  });

  test('is written in the volumes that the house chose, as on its pages; JSON stays in litres', async () => {
    const { syrupLitres } = await terminal.json<{ syrupLitres: { there: number } }>('trace', '26115X-1');
    expect(syrupLitres.there).toBeCloseTo(6 * 3.785411784, 2);
    const line = async () => (await terminal.run('trace', '26115X-1')).out.match(/^ {2}syrup: .*$/m)?.[0];
    expect(await line()).toContain('syrup: 6 gal in all,');
    await terminal.json('setup', '--volumes', 'L');
    expect(await line()).toContain('syrup: 22.7 L in all,');
    await terminal.json('setup', '--volumes', 'gal');
  });

  test('the code of no jar and no lot exits with 3', async () => {
    const formatted = await terminal.run('trace', 'K7QM-3XWT', '--json');
    expect(formatted).toMatchObject({ exit: 3, out: '' });
    expect(formatted.err).toBe('There is no jar or lot K7QM-3XWT in this book.\n');
    expect(await terminal.run('trace')).toMatchObject({ exit: 2, out: '' });
  });
});

describe('the yearly summary', () => {
  const names =
    'lot boils packedAt container jarsMade jarsOnHand jarsSentOut jarsReturned jarsDestroyed jarsOther unaccounted lowestFillF lowestFillTyped brix colour syrupLitres status lateEntries findings';

  test('in JSON, with the columns that others’ scripts use and every lot correct', async () => {
    const file = terminal.path('summary.json');
    await terminal.json('summary', '2026', '--out', file);
    const summary = JSON.parse(readFileSync(file, 'utf8')) as Summary;
    // Fields may be added after those that other people's scripts use.
    expect(Object.keys(summary).slice(0, 4)).toEqual(['year', 'lots', 'totals', 'record']);
    expect(summary.lots).toHaveLength(13);
    for (const line of summary.lots) expect(Object.keys(line).slice(0, 19)).toEqual(names.split(' '));
    const lot = (code: string): Line => summary.lots.find((each) => each.lot === code)!;
    const rules = (code: string): string[] =>
      lot(code)
        .findings.filter((each) => each.stop)
        .map((each) => each.rule);
    expect(lot('26065A-1')).toMatchObject({
      jarsMade: 30,
      lowestFillF: 185,
      lowestFillTyped: '185 F',
      colour: 'Golden',
    });
    expect(lot('26071A-2')).toMatchObject({ status: 'held', lowestFillTyped: '178 F', jarsSentOut: 12 });
    expect(rules('26071A-2')).toEqual(['fill-temperature']);
    expect(rules('26079A-1')).toEqual(['density-too-thin']);
    expect(lot('26079A-2')).toMatchObject({ status: 'open', boils: ['26079A'] });
    expect(lot('26084X-1')).toMatchObject({ jarsMade: 46, jarsSentOut: 22, jarsOnHand: 23, unaccounted: 0 });
    expect(lot('26092A-1')).toMatchObject({ jarsDestroyed: 15, colour: 'Dark' });
    expect(summary.totals).toMatchObject({ boils: 10, packs: 13, jarsMade: 345, syrupGallons: 31.2, held: 2 });
    expect(summary.record).toEqual(await headOf(terminal));
  });

  test('as a PDF that carries the record’s root and count, which verify compares with the book', async () => {
    const { entries, root } = await headOf(terminal);
    await terminal.json('summary', '2026', '--out', terminal.path('summary.pdf'));
    const { text } = await readPdf(readFileSync(terminal.path('summary.pdf')));
    const spaceless = text.replace(/\s+/g, '');
    expect(spaceless).toContain(root);
    expect(text).toContain(String(entries));
    for (const lot of ['26065A-1', '26084X-1', '26115X-1']) expect(spaceless).toContain(lot);
    expect(text).not.toContain('PRACTICE');
    const page = ['--against', root, '--entries', String(entries)];
    expect(await terminal.json('verify', ...page)).toMatchObject({ ok: true, root, entries });
    const wrong = await terminal.run(
      'verify',
      '--against',
      root.replace(/^./, (first) => (first === '0' ? '1' : '0')),
      '--entries',
      String(entries),
      '--json',
    );
    expect(wrong.exit).toBe(4);
    expect(JSON.parse(wrong.out)).toMatchObject({ ok: false });
    expect(wrong.err).toContain('Verification failed');
    expect(await terminal.run('verify', '--against', root)).toMatchObject({ exit: 2, out: '' });
  });

  test('as CSV, a spreadsheet and EPCIS; an unknown ending exits with 2', async () => {
    for (const ending of ['csv', 'xlsx', 'jsonld'])
      expect((await terminal.run('summary', '2026', '--out', terminal.path(`s.${ending}`))).exit).toBe(0);
    const [header, ...rows] = readFileSync(terminal.path('s.csv'), 'utf8').trim().split('\r\n');
    expect(header).toMatch(/^"Lot","Boils"/);
    expect(rows).toHaveLength(13);
    expect(JSON.parse(readFileSync(terminal.path('s.jsonld'), 'utf8'))).toMatchObject({ type: 'EPCISDocument' });
    expect(await terminal.run('summary', '2026', '--out', 's.doc')).toMatchObject({ exit: 2, out: '' });
  });
});

describe('backup and restore', () => {
  test('a backup is restored as it was, and the previous book is kept aside', async () => {
    const before = await headOf(terminal);
    const file = terminal.path('copy.sqlite');
    expect(await terminal.json('backup', file)).toMatchObject({ root: before.root, entries: before.entries });
    await terminal.json('hold', '26096A-1', '--why', 'to be undone by the restore');
    const restored = await terminal.json('restore', file);
    expect(restored).toMatchObject({ root: before.root, entries: before.entries, keptAside: expect.any(String) });
    expect(await headOf(terminal)).toEqual(before);
    expect(await terminal.run('restore', terminal.path('none.sqlite'))).toMatchObject({ exit: 3, out: '' });
  });

  test('is refused while another process has the book open', async () => {
    const { openBook } = await import('#libs/store/book.js');
    const open = await openBook({ file: join(terminal.book, 'book.sqlite') });
    try {
      const formatted = await terminal.run('restore', terminal.path('copy.sqlite'));
      expect(formatted).toMatchObject({ exit: 4, out: '' });
      expect(formatted.err).not.toBe('');
    } finally {
      await open.close();
    }
  });
});

describe('a book that is new', () => {
  test('works with every command that reads, which append nothing', async () => {
    const fresh = terminal.at('fresh');
    expect(await fresh.run('trace', '26065A-1')).toMatchObject({ exit: 3, out: '' });
    expect(await fresh.run('recall', '26065A-1', '--out', 'r.pdf')).toMatchObject({ exit: 3, out: '' });
    expect(await fresh.run('labels', '26065A-1', '--stock', 'letter-30-up-66x25', '--out', 'l.pdf')).toMatchObject({
      exit: 3,
    });
    expect(await fresh.run('practise')).toMatchObject({ exit: 4, out: '' });
    expect(await fresh.json('summary', '2026', '--out', terminal.path('empty.pdf'))).toMatchObject({
      totals: { packs: 0 },
    });
    expect(await fresh.json('publish', terminal.path('empty'))).toMatchObject({ pages: 0 });
    // The root of an empty log, RFC 6962: SHA-256 of the empty text.
    expect(await fresh.json('verify')).toEqual({
      ok: true,
      entries: 0,
      root: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855',
    });
    await fresh.json(...setUp);
    expect(await fresh.json('verify')).toMatchObject({ ok: true, entries: 1 });
  });
});
