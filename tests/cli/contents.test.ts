import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { inProcessTerminal, lookInto, type Terminal } from '../support/command-line.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

let terminal: Terminal;
beforeAll(async () => {
  terminal = inProcessTerminal();
  await terminal.json('demo');
}, 120_000);
afterAll(() => terminal.remove());

const stateOf = (lot: string) =>
  lookInto(terminal, async ({ read }) => (await findLot(sugarhouseReader(read, 'home'), lot))?.state);

test('a pack of another product is released only with the authority asked, when, and the answer', async () => {
  const pack = '26065A-1';
  expect(await terminal.run('correct', pack, '--why', 'from the cask', 'product=barrel-aged')).toMatchObject({
    exit: 0,
  });
  expect(await stateOf(pack)).toBe('held');
  expect(await terminal.run('release', pack, '--why', 'as agreed')).toMatchObject({ exit: 2 });
  const request = ['--authority', 'the agency', '--asked', '2026-04-20', '--answer', 'may be sold'];
  expect(await terminal.run('release', pack, '--why', 'as agreed', ...request)).toMatchObject({ exit: 0 });
  expect(await stateOf(pack)).toBe('released');
  const labels = await terminal.run('labels', pack, '--stock', 'letter-30-up-66x25', '--out', terminal.path('l.pdf'));
  expect([labels.exit, labels.err]).toEqual([4, expect.stringContaining('no syrup label')]);
});

test('a text about mould holds a lot until the question is answered', async () => {
  const pack = '26082A-1';
  expect(await terminal.run('answer', pack, 'no')).toMatchObject({ exit: 2 });
  await terminal.run('act', pack, '--found', 'green fuzz under a lid', '--done', 'set apart');
  expect(await stateOf(pack)).toBe('held');
  expect(await terminal.run('answer', pack, 'perhaps')).toMatchObject({ exit: 2 });
  expect(await terminal.json('answer', pack, 'yes')).toMatchObject({ status: 'held', outcome: 'new' });
  await terminal.run('act', pack, '--found', 'looked', '--done', 'counted', '--jars-mouldy', '0', '--jars-sound', '6');
  expect(await terminal.run('release', pack, '--why', 'a chipped rim')).toMatchObject({ exit: 0 });
  expect(await stateOf(pack)).toBe('released');
});

test('initials set for the terminal are used for records that need some, and --by overrides them', async () => {
  const pack = (hour: string, ...more: string[]) =>
    terminal.json<{ id: string }>(
      ...['record', 'pack', '--from-lots', '26065A:0.1 gal', '--packed-at', `2026-03-07T${hour}`, '--jars', '1'],
      ...['--container', 'glass jar 8 fl oz', ...more],
    );
  const byOf = async (id: string) =>
    lookInto(terminal, async ({ read }) => (await findRecord(sugarhouseReader(read, 'home'), 'pack', id))?.body.by);
  expect(await byOf((await pack('12:00')).id)).toBe('WE');
  expect(await byOf((await pack('12:10', '--by', 'OE')).id)).toBe('OE');
});
