import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { findLot, jarsOfPack } from '#libs/store/queries/lots.js';
import { inProcessTerminal, headOf, lookInto, type Terminal } from '../support/command-line.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let terminal: Terminal;
beforeAll(async () => {
  terminal = inProcessTerminal();
  await terminal.json('demo');
}, 120_000);
afterAll(() => terminal.remove());

// A pack of the practice season that nothing holds until jars 1–10 of it are read too cold here.
const pack = '26065A-1';
const jarsOf = (): Promise<string[]> =>
  lookInto(terminal, async ({ read }) => {
    const codes: string[] = [];
    for await (const jar of jarsOfPack(sugarhouseReader(read, 'home'), pack)) codes.push(jar.code);
    return codes;
  });
const file = (name: string, text: string): string => {
  writeFileSync(terminal.path(name), text);
  return terminal.path(name);
};

test('a sale of held jars is refused with exit 4 on the command line and in a file, and nothing is written', async () => {
  const cold = ['correct', pack, '--why', 'from the fill sheet', 'fillTemps=176 F jars 1-10;186 F jars 11-30'];
  expect(await terminal.run(...cold)).toMatchObject({ exit: 0 });
  const before = await headOf(terminal);
  const jars = await jarsOf();
  const row = (codes: string) =>
    file(
      'd.csv',
      `lot,jars,sent_at,to,kind\n26068A-1,1,2026-04-02T09:00,the stall,sale\n${pack},${codes},2026-04-02T09:00,the stall,sale\n`,
    );
  const refused = await terminal.run('import', 'dispatches', row(jars[3]!));
  expect(refused.exit).toBe(4);
  expect(refused.err).toMatch(/\(jar 4\) may not leave; the other jars may.*Pour back/s);
  expect(await headOf(terminal)).toEqual(before);
  expect(await terminal.run('import', 'dispatches', row(jars[20]!))).toMatchObject({ exit: 0 });
});

test('the labels of held jars are left out of the sheet, with a note', async () => {
  const print = ['labels', pack, '--stock', 'letter-30-up-66x25', '--out', terminal.path('l.pdf')];
  const printed = await terminal.run(...print, '--json');
  expect(printed.exit).toBe(0);
  expect(JSON.parse(printed.out)).toMatchObject({ labels: 20 });
  expect(printed.err).toMatch(/jars 1–10/);
  const onlyHeld = await terminal.run(...print, '--from', '1', '--to', '10', '--force');
  expect([onlyHeld.exit, onlyHeld.err]).toEqual([4, expect.stringContaining('Fill temperature')]);
});

test('a trace says why the pack is in its state, each hold rule with its evidence', async () => {
  const why = await terminal.run('trace', pack, '--why');
  expect(why.exit).toBe(0);
  expect(why.out).toContain(`${pack} is held.`);
  expect(why.out).toMatch(/Fill temperature: holds it: found 176 °F/);
  expect(why.out).toMatch(/Failed seals: met: 0 failed, by OE/);
  expect(why.out).toMatch(/not recorded: .*thermometer/);
  const result = await terminal.json<{ why: { rules: { rule: string; state: string }[] } }>('trace', pack, '--why');
  expect(result.why.rules.find(({ rule }) => rule === 'fill-temperature')?.state).toBe('holds');
  // A boil is judged by its sugar, its equipment and its lead; sap has no status.
  expect((await terminal.run('trace', '26065A', '--why')).out).toMatch(
    /26065A is open\.[^]*Equipment rinsing, water test or lead: /,
  );
  const { gatherings } = await terminal.json<{ gatherings: string[] }>('trace', '26065A');
  expect(await terminal.run('trace', gatherings[0] ?? '', '--why')).toMatchObject({ exit: 4 });
});

test('held jars that had already left are accepted, and a maker’s initials close them', async () => {
  const [, , , fourth] = await jarsOf();
  const left = file(
    'left.csv',
    `id,lot,jars,sent_at,to,kind,already_left\nS900,${pack},${fourth},2026-04-02T09:00,the stall,sale,yes\n`,
  );
  expect(await terminal.run('import', 'dispatches', left)).toMatchObject({ exit: 0 });
  const findings = () =>
    lookInto(terminal, async ({ read }) =>
      ((await findLot(sugarhouseReader(read, 'home'), pack))?.verdict?.findings ?? [])
        .filter(({ rule }) => rule === 'already-left')
        .map(({ found }) => found),
    );
  const before = await findings();
  expect(before).toHaveLength(1);
  expect(await terminal.run('acknowledge')).toMatchObject({ exit: 2 });
  expect(await terminal.run('acknowledge', 'S901')).toMatchObject({ exit: 2 });
  const done = await terminal.run('acknowledge', 'S900', '--note', 'called the stall, kept apart', '--by', 'WE');
  expect(done.exit).toBe(0);
  expect(done.out).toMatch(/Entry \d+: dispatch S900 acknowledged by WE\./);
  expect(await findings()).not.toEqual(before);
});

test('a record of something that did not happen is voided with a reason, once; one that other records depend on is not', async () => {
  const row = 'id,lot,jars,sent_at,to,kind\nS950,26068A-1,1,2026-04-02T09:00,the stall,sale\n';
  expect(await terminal.run('import', 'dispatches', file('twice.csv', row))).toMatchObject({ exit: 0 });
  const jarsOut = async () => (await terminal.json<{ jars: { sentOut: number } }>('trace', '26068A-1')).jars.sentOut;
  const before = await jarsOut();
  expect(await terminal.run('void', 'S950')).toMatchObject({ exit: 2, out: '' });
  const voided = await terminal.run('void', 'S950', '--why', 'entered twice', '--by', 'WE');
  expect([voided.exit, voided.out]).toEqual([0, expect.stringContaining(': voided S950.')]);
  expect(await jarsOut()).toBe(before - 1);
  const again = await terminal.run('void', 'S950', '--why', 'entered twice');
  expect([again.exit, again.err]).toEqual([4, expect.stringContaining('already voided')]);
  expect(await terminal.run('void', 'S951', '--why', 'x')).toMatchObject({ exit: 3 });
  const standing = await terminal.run('void', '26068A-1', '--why', 'x');
  expect([standing.exit, standing.err]).toEqual([4, expect.stringContaining('void those first')]);
  expect(await terminal.json('verify')).toMatchObject({ ok: true });
});
