import { describe, expect, test } from '@jest/globals';
import { balanceOf, balancesOf, type JarBalance, sumBalances } from '#libs/store/queries/jar-balance.js';
import { jarsOfPack } from '#libs/store/queries/lots.js';
import { codesByMovement, movementsOf, movementsOfJar } from '#libs/store/queries/trace.js';
import { writeContext, recordOrThrow } from '../support/sugarhouse.js';
import { engines } from '../support/engines.js';
import { pack, seasonCopies } from '../support/season-copies.js';

describe.each(engines())('The jars of a pack on $name', (engine) => {
  const season = seasonCopies(engine);
  const balance = (at = writeContext().now): Promise<JarBalance> => balanceOf(season.reader(), pack, at.toISOString());
  const conserved = ({ made, onHand, sentOut, destroyed, other, unaccounted }: JarBalance): void =>
    expect(onHand + sentOut + destroyed + other + (unaccounted ?? 0)).toBe(made);

  test('are all on hand at first, and none is unaccounted for before a count', async () => {
    expect(await balance()).toMatchObject({
      made: 48,
      onHand: 48,
      sentOut: 0,
      destroyed: 0,
      other: 0,
      unaccounted: null,
    });
  });

  test.each([
    ['sale', { sentOut: 5, other: 0, destroyed: 0, onHand: 43 }],
    ['gift', { sentOut: 5, other: 0, destroyed: 0, onHand: 43 }],
    ['sample', { sentOut: 0, other: 5, destroyed: 0, onHand: 43 }],
    ['kept', { sentOut: 0, other: 5, destroyed: 0, onHand: 43 }],
    ['retained', { sentOut: 0, other: 5, destroyed: 0, onHand: 43 }],
    ['broken', { sentOut: 0, other: 5, destroyed: 0, onHand: 43 }],
    ['destroyed', { sentOut: 0, other: 0, destroyed: 5, onHand: 43 }],
  ])('less a %s of five are 43 on hand, and the five are counted as that', async (kind, expected) => {
    await recordOrThrow(season.book, 'dispatch', { kind, jars: '5' });
    expect(await balance()).toMatchObject({ made: 48, ...expected });
    conserved(await balance());
  });

  test('returned jars are set apart until it is recorded that they are sealed and how they were kept', async () => {
    await recordOrThrow(season.book, 'dispatch', { jars: '10' });
    const back = { kind: 'returned', jars: '3', sentAt: '2026-04-18T14:00' };
    const { id } = await recordOrThrow(season.book, 'dispatch', back);
    expect(await balance()).toMatchObject({
      onHand: 38,
      sentOut: 7,
      other: 3,
      parts: { returned: 3, returnedApart: 3 },
    });
    conserved(await balance());
    const looked = (but: Record<string, string>) =>
      recordOrThrow(season.book, 'dispatch', { id, ...back, ...but }, {}, { why: 'looked at' });
    await looked({ sealed: '3', keptHow: 'not-known' });
    expect(await balance()).toMatchObject({ onHand: 38, other: 3 });
    await looked({ sealed: '2', keptHow: 'cold' });
    expect(await balance()).toMatchObject({ onHand: 40, sentOut: 7, other: 1, parts: { returnedApart: 1 } });
    conserved(await balance());
    await recordOrThrow(season.book, 'dispatch', {
      kind: 'destroyed',
      jars: '1',
      fromReturned: '1',
      sentAt: '2026-04-19T09:00',
    });
    expect(await balance()).toMatchObject({ onHand: 40, destroyed: 1, other: 0 });
    conserved(await balance());
  });

  test('destroyed by count in a recall are taken from the shelf first and then from those set apart', async () => {
    await recordOrThrow(season.book, 'dispatch', { jars: '10' });
    await recordOrThrow(season.book, 'dispatch', { kind: 'returned', jars: '4', sentAt: '2026-04-18T14:00' });
    await recordOrThrow(season.book, 'dispatch', { kind: 'destroyed', jars: '40', sentAt: '2026-04-19T09:00' });
    expect(await balance()).toMatchObject({ onHand: 0, destroyed: 40, sentOut: 6, other: 2 });
    await recordOrThrow(season.book, 'dispatch', { kind: 'destroyed', jars: '2', sentAt: '2026-04-20T09:00' });
    expect(await balance()).toMatchObject({ onHand: 0, destroyed: 42, sentOut: 6, other: 0 });
    conserved(await balance());
  });

  test('returned before any was sent add no stock; the answer notes that, and a dispatch of more jars than were made', async () => {
    const back = { kind: 'returned', jars: '5', sealed: '5', keptHow: 'cold', sentAt: '2026-04-09T14:00' };
    const early = await recordOrThrow(season.book, 'dispatch', back);
    expect(early.notes.join()).toContain('5 more than had been sent out');
    const made = (await balance()).made;
    expect(await balance()).toMatchObject({ onHand: made, sentOut: 0, other: 0 });
    expect((await recordOrThrow(season.book, 'dispatch', { jars: `${made}` })).notes.join()).not.toContain('wrong');
    const more = await recordOrThrow(season.book, 'dispatch', { jars: '5', sentAt: '2026-04-19T09:00' });
    expect(more.notes.join()).toContain(
      `${made + 5} jars of 26077A-1 sent out, destroyed or used otherwise, 5 more than were made`,
    );
    conserved(await balance());
  });

  test('counted above what can be there are noted, and no more of them can be sold', async () => {
    await recordOrThrow(season.book, 'dispatch', { kind: 'destroyed', jars: '8', sentAt: '2026-04-10T09:00' });
    const right = await recordOrThrow(season.book, 'count', { id: 'C1', jars: '40', countedAt: '2026-04-11T09:00' });
    expect(right.notes).toEqual([]);
    const high = await recordOrThrow(season.book, 'count', { id: 'C2', jars: '60', countedAt: '2026-04-12T09:00' });
    expect(high.notes.join()).toContain(
      '60 of 26077A-1 were counted, and by the records at most 40 can be on the shelf: 48 were made, and 8 were sent out',
    );
  });

  test('in a plan have not moved before its time, and have afterwards', async () => {
    await recordOrThrow(season.book, 'dispatch', { jars: '10', sentAt: '2026-05-09T09:00' });
    expect(await balance()).toMatchObject({ onHand: 48, sentOut: 0 });
    expect(await balance(new Date('2026-05-09T13:00:00Z'))).toMatchObject({ onHand: 38, sentOut: 10 });
  });

  test('are as in the last count, adjusted by later moves; the rest is unaccounted for', async () => {
    await recordOrThrow(season.book, 'dispatch', { jars: '10' });
    await recordOrThrow(season.book, 'count', { jars: '36' });
    expect(await balance()).toMatchObject({ onHand: 36, sentOut: 10, unaccounted: 2 });
    await recordOrThrow(season.book, 'dispatch', { jars: '4', sentAt: '2026-04-25T09:00' });
    await recordOrThrow(season.book, 'dispatch', { jars: '1', kind: 'returned', sentAt: '2026-04-26T09:00' });
    expect(await balance()).toMatchObject({ onHand: 32, sentOut: 13, other: 1, unaccounted: 2 });
    conserved(await balance());
    await recordOrThrow(season.book, 'count', { id: 'C02', jars: '34', countedAt: '2026-04-30T18:00' });
    expect(await balance()).toMatchObject({ onHand: 34, unaccounted: 0 });
    conserved(await balance());
    // An older count that is entered late doesn't replace the newer one.
    await recordOrThrow(season.book, 'count', { id: 'C03', jars: '1', countedAt: '2026-04-10T18:00' });
    expect(await balance()).toMatchObject({ onHand: 34 });
  });

  test('counted beyond what there can be give a negative difference, which is not hidden', async () => {
    await recordOrThrow(season.book, 'count', { jars: '50' });
    expect(await balance()).toMatchObject({ onHand: 50, unaccounted: -2 });
    conserved(await balance());
  });

  test('poured back to be packed again have left the shelf, and are not subtracted twice where they were written off', async () => {
    // Eight half pints are 64 fl oz, half a gallon.
    await recordOrThrow(season.book, 'pack', {
      fromLots: [`${pack}:0.5 gal`],
      packedAt: '2026-03-25T10:00',
      jars: '8',
    });
    expect(await balance()).toMatchObject({ onHand: 40, other: 8, parts: { pouredBack: 8 } });
    conserved(await balance());
    await recordOrThrow(season.book, 'dispatch', { jars: '44', kind: 'destroyed' });
    expect(await balance()).toMatchObject({ onHand: 0, destroyed: 44, other: 4 });
    conserved(await balance());
  });

  test('sent beyond what was made show as a negative number, and the total still balances', async () => {
    await recordOrThrow(season.book, 'dispatch', { jars: '60' });
    expect(await balance()).toMatchObject({ onHand: -12, sentOut: 60 });
    conserved(await balance());
  });

  test('in a corrected dispatch count once, as corrected; a dispatch moved to another lot leaves the first', async () => {
    const { id } = await recordOrThrow(season.book, 'dispatch', { jars: '10' });
    await recordOrThrow(season.book, 'dispatch', { id, jars: '12' }, {}, { why: 'a box of twelve' });
    expect(await balance()).toMatchObject({ onHand: 36, sentOut: 12 });
    await recordOrThrow(season.book, 'pack', { fromLots: '26077A:1 pt', jars: '2' });
    await recordOrThrow(season.book, 'dispatch', { id, jars: '2', lot: '26077A-2' }, {}, { why: 'the other shelf' });
    const both = await balancesOf(season.reader(), [pack, '26077A-2'], writeContext().now.toISOString());
    expect([...both.values()].map((each) => each.onHand)).toEqual([48, 0]);
    expect(sumBalances(both.values())).toMatchObject({ made: 50, onHand: 48, sentOut: 2, unaccounted: null });
  });

  test('sent by their codes are found by them; those sent by count are attributed to no code', async () => {
    const codes: string[] = [];
    for await (const jar of jarsOfPack(season.reader(), pack, 3, 5)) codes.push(jar.code);
    const typed = codes.map((code, n) => (n === 0 ? `${code.slice(0, 4)}-${code.slice(4)}`.toLowerCase() : code));
    const { id } = await recordOrThrow(season.book, 'dispatch', { jars: typed });
    await recordOrThrow(season.book, 'dispatch', { jars: '7', sentAt: '2026-04-12T09:00' });
    expect([...(await codesByMovement(season.reader(), [pack]))]).toEqual([[id, [...codes].sort()]]);
    expect(await movementsOfJar(season.reader(), codes[0] ?? '')).toMatchObject([{ id, byCodes: true, jars: 3 }]);
    const [first, second] = await movementsOf(season.reader(), [pack]);
    expect([first?.byCodes, second?.byCodes]).toEqual([true, false]);
    expect(await balance()).toMatchObject({ onHand: 38, sentOut: 10 });
  });
});
