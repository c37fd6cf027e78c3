import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { findLot, jarsOfPack } from '#libs/store/queries/lots.js';
import { openPdf, printed, readByFirst } from '../support/read-symbols.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { readPdf } from '../support/read-pdf.js';
import { inProcessTerminal, headOf, lookInto, type Terminal } from '../support/command-line.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let terminal: Terminal;
beforeAll(async () => {
  terminal = inProcessTerminal({ BOILBOOK_PUBLIC_URL: 'https://jars.tamarack.example' });
  expect(await terminal.json('demo')).toMatchObject({ practice: true });
}, 120_000);
afterAll(() => terminal.remove());

/** The jars of a lot, by their codes without the dash, in order. */
const jarsOf = (lot: string): Promise<string[]> =>
  lookInto(terminal, async ({ read }) => {
    const codes: string[] = [];
    for await (const jar of jarsOfPack(sugarhouseReader(read, 'home'), lot)) codes.push(jar.code);
    return codes;
  });
const stateOf = (lot: string) =>
  lookInto(terminal, async ({ read }) => (await findLot(sugarhouseReader(read, 'home'), lot))?.state);

/** Every QR code of a sheet as a phone reads it, reduced to its jar's code. */
async function codesOn(file: string): Promise<string[]> {
  const document = await openPdf(readFileSync(file));
  const codes: string[] = [];
  for (let page = 1; page <= document.numPages; page++)
    for (const text of await readByFirst(await printed(document, page, 203)))
      codes.push(/^HTTPS:\/\/JARS\.TAMARACK\.EXAMPLE\/J\/([0-9A-Z]{8})$/.exec(text)?.[1] ?? text);
  await document.destroy();
  return codes.sort();
}

const practiceOn = async (file: string): Promise<boolean[]> =>
  (await readPdf(readFileSync(file))).pages.map((page) => page.text.includes('PRACTICE'));

const smallLids = ['a4-12-up-round-60x60', 'letter-12-up-round-64x64'];

describe('labels', () => {
  test('the whole lot on the sheet of thirty, every QR code read back, the same codes printed again', async () => {
    const jars = await jarsOf('26065A-1');
    const print = ['labels', '26065A-1', '--stock', 'letter-30-up-66x25', '--out', terminal.path('labels.pdf')];
    expect(await terminal.json(...print)).toMatchObject({ lot: '26065A-1', from: 1, to: 30, labels: 30, pages: 1 });
    expect(jars).toHaveLength(30);
    expect(await codesOn(terminal.path('labels.pdf'))).toEqual([...jars].sort());
    const again = await terminal.run(...print, '--force');
    expect(again).toMatchObject({ exit: 0 });
    expect(again.err).toContain('Vermont Agency of Agriculture, Food and Markets');
    expect(again.err).toContain('Local rules and licensed practice come first.');
    expect(await codesOn(terminal.path('labels.pdf'))).toEqual([...jars].sort());
  });

  test('by sheet, roll and lid: one label for each jar, with its code in letters, and PRACTICE', async () => {
    const stocks = await terminal.json<{ name: string; roll: boolean }[]>('stocks');
    const names = stocks.map((stock) => stock.name);
    expect(names.length).toBeGreaterThanOrEqual(4);
    for (const name of names) expect(name).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    const jars = (await jarsOf('26065A-1')).slice(3, 6);
    // tests/labels draws every stock and decodes its QR codes; here the command prints one of each shape.
    const shapes = stocks.filter(({ name }, n) => n % 6 === 0 || smallLids.includes(name));
    expect(new Set(shapes.map(({ roll }) => roll)).size).toBe(2);
    for (const { name, roll } of shapes) {
      const file = terminal.path(`${name}.pdf`);
      const print = ['labels', '26065A-1', '--stock', name, '--from', '4', '--to', '6', '--out', file];
      if (!roll) print.push('--skip', '1');
      // The net quantity of a half pint is too tall for the bottom 30 % of a small lid.
      if (smallLids.includes(name)) {
        const refused = await terminal.run(...print);
        expect([name, refused.exit]).toEqual([name, 4]);
        expect(refused.err).toContain(`Net quantity does not fit on ${name}`);
        continue;
      }
      const printedNow = await terminal.json(...print);
      expect(printedNow).toMatchObject({ labels: 3, from: 4, to: 6 });
      const { pages } = await readPdf(readFileSync(file));
      const text = pages.map((page) => page.text).join('\n');
      expect({ name, codes: jars.filter((code) => text.includes(printedJarCode(code))) }).toEqual({
        name,
        codes: jars,
      });
      expect({ name, practice: pages.every((page) => page.text.includes('PRACTICE')) }).toEqual({
        name,
        practice: true,
      });
    }
  }, 180_000);

  test('none for a held or recalled lot, an unknown one or an unknown stock', async () => {
    const print = (lot: string, stock = 'roll-57x32') =>
      terminal.run('labels', lot, '--stock', stock, '--out', terminal.path('no.pdf'));
    const held = await print('26079A-1');
    expect(held).toMatchObject({ exit: 4, out: '' });
    expect(held.err).toContain('Minimum density');
    expect(await print('26092A-1')).toMatchObject({ exit: 4, out: '' });
    expect(await print('26200A-1')).toMatchObject({ exit: 3, out: '' });
    expect(await print('26065A-1', 'my-own')).toMatchObject({ exit: 2, out: '' });
  });
});

describe('a lot filled too cold', () => {
  test('is held, acted on and released, in that order', async () => {
    const file = terminal.path('cold.csv');
    writeFileSync(
      file,
      'lot,from_lots,packed_at,density_reading,density_at,density_by,container,container_prep,jars,fill_temps,seals_failed,by\n' +
        '26085A-1,26085A:0.2 gal,2026-04-26T10:00,60.8 Bx,185 F,hydrometer,glass jar 8 fl oz,boiled,3,186 F jars 1-2;179.9 F jars 3-3,0,WE\n',
    );
    expect(await terminal.json('import', 'packs', file)).toMatchObject({ ids: ['26085A-1'] });
    const labels = ['labels', '26085A-1', '--stock', 'roll-57x32', '--out', terminal.path('cold.pdf')];
    // The cold jar is left out of the sheet, and the output names it; requested alone it gets no label.
    const partly = await terminal.run(...labels);
    expect(partly.exit).toBe(0);
    expect(partly.out).toContain('2 labels of 26085A-1');
    expect(partly.err).toMatch(/jar 3\b/);
    const refused = await terminal.run(...labels, '--force', '--from', '3');
    expect(refused).toMatchObject({ exit: 4, out: '' });
    expect(refused.err).toContain('Fill temperature');
    expect(refused.err).toContain('179.9 °F');

    const plan = terminal.path('plan.csv');
    writeFileSync(plan, 'id,lot,jars,sent_at,to\nS900,26085A-1,3,2099-05-01T09:00,Millrace Green market\n');
    const planned = await terminal.run('import', 'dispatches', plan);
    expect(planned).toMatchObject({ exit: 4, out: '' });
    expect(planned.err).toMatch(/26085A-1.*held/);

    const early = await terminal.run('release', '26085A-1', '--why', 'it looks fine');
    expect(early).toMatchObject({ exit: 4, out: '' });
    expect(early.err).toContain('Then record the corrective action with its jars and its cause');
    const acted = await terminal.json(
      ...['act', '26085A-1', '--found', 'third jar at 179.9 F', '--done', 'reheated, filled again in a hot jar'],
      ...['--jars', '3', '--cause', 'cold-jar', '--fill-temps', '187 F', '--by', 'OE'],
    );
    // No hold rule applies any more. The new lids need a check, and the quart it was packed from had been eaten at
    // home.
    expect(acted).toMatchObject({
      lot: '26085A-1',
      status: 'held',
      findings: [
        { rule: 'seals-not-checked', stop: false, jars: [{ from: 3, to: 3 }] },
        { rule: 'drawn-more-than-there', stop: false },
      ],
    });
    expect(await terminal.json('release', '26085A-1', '--why', 'filled again at 185 F')).toMatchObject({
      outcome: 'new',
    });
    expect(await stateOf('26085A-1')).toBe('released');
    expect(await terminal.json(...labels, '--force')).toMatchObject({ labels: 3 });
  });

  test('a hold needs a reason and a lot; it extends to the lots that the syrup went into', async () => {
    expect(await terminal.run('hold', '26088A')).toMatchObject({ exit: 2, out: '' });
    expect(await terminal.run('hold', '26300A', '--why', 'smoke')).toMatchObject({ exit: 3, out: '' });
    await terminal.json('hold', '26088A', '--why', 'smoke in the can');
    expect(await stateOf('26115X-1')).toBe('held');
    await terminal.json('release', '26088A', '--why', 'tasted again, none');
    expect(await stateOf('26115X-1')).toBe('released');
  });
});

describe('a recall', () => {
  interface Recalled {
    readonly lots: string[];
    readonly jars: Record<'made' | 'onHand' | 'sentOut' | 'destroyed' | 'other', number> & {
      unaccounted: number | null;
    };
    readonly dispatches: { readonly to: string; readonly jars: number }[];
  }

  test('lists who has it, what is on hand and the reconciliation, on pages that say PRACTICE', async () => {
    const file = terminal.path('recall.pdf');
    await terminal.json('publish', terminal.path('web'));
    const recalled = await terminal.json<Recalled>('recall', 'R001', '--why', 'glass in the can', '--out', file);
    expect(recalled.lots).toEqual(['26084X-1']);
    expect(recalled.jars).toEqual({ made: 46, onHand: 23, sentOut: 22, destroyed: 0, other: 1, unaccounted: 0 });
    expect(recalled.dispatches.map(({ to, jars }) => [to, jars])).toEqual(
      expect.arrayContaining([
        ['Notch Road Farm Stand', 12],
        ['Millrace Green market', 10],
      ]),
    );
    const { text } = await readPdf(readFileSync(file));
    for (const formatted of ['Notch Road Farm Stand', '802 555 0142', '26084X-1', 'glass in the can'])
      expect(text.replace(/\s+/g, ' ')).toContain(formatted);
    expect((await practiceOn(file)).every(Boolean)).toBe(true);
    expect(await stateOf('26084X-1')).toBe('recalled');
  });

  test('changes every published page of the lot and no other', async () => {
    const [jar = ''] = await jarsOf('26084X-1');
    const page = (): string => readFileSync(terminal.path(`web/J/${jar}/index.html`), 'utf8');
    expect(page()).not.toContain('RECALLED');
    expect(await terminal.json('publish', terminal.path('web'))).toMatchObject({ pages: 348, written: 46 });
    expect(page()).toContain('RECALLED');
    expect(page()).toContain('PRACTICE');
  });

  test('is practised with a count by a person, from the start to the close', async () => {
    const begun = await terminal.json<{ id: string; jar: string; lot: string }>('practise', '--begin');
    expect(await terminal.run('practise', '--on-shelf', '3')).toMatchObject({ exit: 2, out: '' });
    expect(await terminal.run('practise', '--of', begun.id, '--on-shelf', 'a few')).toMatchObject({ exit: 2, out: '' });
    const closed = await terminal.json('practise', '--of', begun.id, '--on-shelf', '3');
    expect(closed).toMatchObject({
      jar: begun.jar,
      lot: begun.lot,
      result: expect.stringMatching(/^\d+ of \d+ jars of/),
    });
    expect(await terminal.run('practise', '--of', begun.id, '--on-shelf', '2')).toMatchObject({ exit: 2 });
  });

  test('is practised with a jar drawn at random, and the result is on the record', async () => {
    const before = await headOf(terminal);
    const practised = await terminal.json('practise');
    expect(practised).toMatchObject({ entry: before.entries + 1, result: expect.stringContaining('jars of') });
    expect(await terminal.json('trace', String(practised['jar']))).toMatchObject({
      kind: 'jar',
      pack: practised['lot'],
    });
  });
});

describe('the record and the household', () => {
  test('the log is exported, proved lot by lot, and moved into another book with the same root', async () => {
    const { entries, root } = await headOf(terminal);
    expect(await terminal.json('log', '--out', terminal.path('log.jsonl'))).toMatchObject({ entries });
    expect(readFileSync(terminal.path('log.jsonl'), 'utf8').trim().split('\n')).toHaveLength(entries);
    expect(await terminal.json('proof', '26079A-1')).toMatchObject({ lot: '26079A-1', entries, root });
    expect(await terminal.json('move', terminal.path('moved'))).toEqual({ entries, root });
    expect(await terminal.at('moved').json('verify')).toEqual({ ok: true, entries, root });
    expect(await terminal.run('move', terminal.path('moved'))).toMatchObject({ exit: 4, out: '' });
  });

  test('people and keys are added by role; none of it is in the log', async () => {
    const before = await headOf(terminal);
    expect(await terminal.json('person', 'add', 'TE', '--role', 'helper')).toEqual({ initials: 'TE', role: 'helper' });
    expect(await terminal.json('key', 'add', 'market-sheet', '--role', 'maker')).toMatchObject({
      key: expect.stringMatching(/^\S{20,}$/),
    });
    const wrong = await terminal.run('person', 'add', 'TE', '--role', 'cook');
    expect(wrong).toMatchObject({ exit: 2, out: '' });
    expect(wrong.err).toContain('Role: expected one of');
    expect(await headOf(terminal)).toEqual(before);
  });

  test('the practice season’s summary says PRACTICE on every page; it is written once only', async () => {
    await terminal.json('summary', '2026', '--out', terminal.path('practice.pdf'), '--lot-pages');
    const pages = await practiceOn(terminal.path('practice.pdf'));
    expect(pages.length).toBeGreaterThan(13);
    expect(pages.every(Boolean)).toBe(true);
    const again = await terminal.run('demo');
    expect(again).toMatchObject({ exit: 4, out: '' });
    expect(again.err).toMatch(/^The practice season is written into an empty book, and this one has \d+ entries/);
  });

  test('a document that can’t be written is reported with how to fix it; a closed pipe is no error', async () => {
    const nowhere = terminal.path('log.jsonl/summary.json');
    const formatted = await terminal.run('summary', '2026', '--out', nowhere);
    expect(formatted).toMatchObject({ exit: 2, out: '' });
    expect(formatted.err).toMatch(
      /^Out: expected a file in a folder that you may write to, got ".*log\.jsonl\/summary\.json"/,
    );
    expect(await terminal.runUntilClosed(0, 'trace', '26079A', '--down')).toMatchObject({ exit: 0, err: '' });
  });

  test('help lists every command; an unknown one exits with 2', async () => {
    const help = await terminal.run('--help');
    expect(help).toMatchObject({ exit: 0, err: '' });
    const commands =
      'setup|demo|import|trace|labels|stocks|hold|act|release|correct|recall|practise|summary|publish|verify|backup|restore|person add|person password|key add|reckon density|reckon finish|reckon fill|reckon shrink|reckon weight|reckon yield|reckon colour|reckon type-height';
    for (const command of commands.split('|')) expect(help.out).toMatch(new RegExp(`^  ${command}( |$)`, 'm'));
    expect(await terminal.run('labels', '--help')).toMatchObject({ exit: 0, err: '' });
    for (const text of [['sell'], ['trace', '26065A', '--sideways'], ['key', 'lend'], []]) {
      const formatted = await terminal.run(...text);
      expect(formatted).toMatchObject({ exit: 2, out: '' });
      expect(formatted.err).not.toBe('');
    }
  });
});
