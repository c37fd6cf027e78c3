import { describe, expect, test } from '@jest/globals';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { findLot } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

describe.each(engines())('Mould and words of spoilage on $name', (engine) => {
  const season = seasonCopies(engine);
  const { state, write, correct } = season;
  const complain = (sent: Record<string, string>) =>
    write('complaint', { lot: pack, said: 'a jar came back', ...sent });
  const act = (sent: Record<string, string>) =>
    write('action', { lot: pack, found: 'looked', done: 'counted', ...sent });
  const rules = async (stop: boolean, code = pack): Promise<string[]> =>
    ((await findLot(season.reader(), code))?.verdict?.findings ?? [])
      .filter((each) => each.stop === stop)
      .map(({ rule }) => rule);
  const stops = (code = pack) => rules(true, code);

  test('a complaint of “green mould under the lid” needs an answer and holds; “no” opens the lot without a release', async () => {
    await complain({ said: 'green mould under the lid' });
    expect([await state(), await stops()]).toEqual(['held', ['spoilage-question']]);
    expect(problemOf(await releaseLot(season.book, writeContext(), pack, 'surely not')).kind).toBe('refused');
    await write('answer', { lot: pack, answer: 'no', note: 'dried syrup' });
    expect([await state(), await stops()]).toEqual(['open', []]);
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('an answer given before the text was written opens nothing', async () => {
    await write('answer', { lot: pack, answer: 'no', question: 'complaint C9 says “fuzzy”' });
    await complain({ id: 'C9', said: 'fuzzy' });
    expect(await stops()).toEqual(['spoilage-question']);
  });

  test('a text other than the one answered raises the question again', async () => {
    const id = await complain({ said: 'fuzzy' });
    await write('answer', { lot: pack, answer: 'no' });
    await correct('complaint', id, { said: 'fuzzy, and it fizzed' });
    expect(await stops()).toEqual(['spoilage-question']);
  });

  test('“yes” holds the lot until other jars are inspected', async () => {
    await complain({ said: 'moisi' });
    await write('answer', { lot: pack, answer: 'yes' });
    expect(await stops()).toEqual(['mould']);
  });

  test('“not known” holds; so does mould answered yes; “no mould” needs no answer', async () => {
    await complain({ said: 'no mould, but darker' });
    expect(await state()).toBe('open');
    await complain({ mould: 'not-known' });
    expect(await stops()).toEqual(['spoilage-question']);
    await complain({ mould: 'yes', came: 'sealed' });
    expect(await stops()).toEqual(['mould', 'spoilage-question']);
  });

  test('a jar that stood open and warm is an advisory', async () => {
    await complain({ said: 'mouldy', mould: 'yes', came: 'opened-warm' });
    expect([await state(), await stops()]).toEqual(['open', []]);
    expect(await rules(false)).toContain('mould-opened-warm');
    await complain({ mould: 'yes', came: 'opened-cold' });
    expect(await stops()).toEqual(['mould']);
  });

  test('after jars are inspected and counted and mouldy ones destroyed, the sound ones are released with the cause', async () => {
    await complain({ mould: 'yes', came: 'sealed' });
    expect(problemOf(await releaseLot(season.book, writeContext(), pack, 'one bad lid')).text).toContain(
      'Inspect other jars of the lot',
    );
    await act({ jarsMouldy: '2', jarsSound: '10' });
    expect(await stops()).toEqual(['mould']);
    await recordOrThrow(season.book, 'dispatch', { jars: '2', kind: 'destroyed', to: 'compost' });
    expect(await stops()).toEqual(['mould-looked-at']);
    done(await releaseLot(season.book, writeContext(), pack, 'a bad sleeve of lids'));
    expect(await state()).toBe('released');
    // Another mouldy jar is new evidence after that release.
    await complain({ mould: 'yes', came: 'sealed' });
    expect([await state(), await stops()]).toEqual(['held', ['mould']]);
  });

  test('a count before the mould was seen, or of only half, clears nothing', async () => {
    await act({ jarsMouldy: '0', jarsSound: '12' });
    await complain({ mould: 'yes', came: 'sealed' });
    await act({ jarsSound: '12' });
    expect(await stops()).toEqual(['mould']);
  });

  test('more jars inspected than the lot has beside the mouldy one clear nothing until the number is corrected', async () => {
    await complain({ said: 'mouldy', mould: 'yes', came: 'sealed' });
    const inspection = await act({ jarsMouldy: '0', jarsSound: '48' });
    expect(await stops()).toEqual(['mould']);
    expect((await findLot(season.reader(), pack))?.verdict?.findings[0]).toMatchObject({
      limit: 'at most 47 other jars inspected, of 48',
      found: expect.stringContaining('48 other jars inspected, more than there can be'),
    });
    expect(problemOf(await releaseLot(season.book, writeContext(), pack, 'all sound')).kind).toBe('refused');
    await correct('action', inspection, { jarsSound: '47' });
    expect(await stops()).toEqual(['mould-looked-at']);
  });

  test('a later inspection of one sound jar doesn’t undo that an earlier one found mouldy jars', async () => {
    await complain({ mould: 'yes', came: 'sealed' });
    await act({ jarsMouldy: '5', jarsSound: '3' });
    await act({ jarsMouldy: '0', jarsSound: '1' });
    expect(await stops()).toEqual(['mould']);
    await recordOrThrow(season.book, 'dispatch', { jars: '5', kind: 'destroyed', to: 'compost' });
    expect(await stops()).toEqual(['mould-looked-at']);
    // Jars destroyed after an earlier report don't count for those that a later inspection found.
    await complain({ mould: 'yes', came: 'sealed' });
    await act({ jarsMouldy: '1', jarsSound: '6' });
    expect(await stops()).toEqual(['mould']);
  });

  test('a second sealed mouldy jar holds every pack of the boil, two reports of one jar or an opened one don’t', async () => {
    await correct('pack', pack, { fromLots: '26077A:2 gal', jars: '32' });
    const sister = (
      await recordOrThrow(season.book, 'pack', { fromLots: '26077A:1 qt', jars: '4', packedAt: '2026-03-20T10:00' })
    ).id;
    await complain({ mould: 'yes', came: 'sealed', jar: '1' });
    await complain({ mould: 'yes', came: 'sealed', jar: '1' });
    await complain({ mould: 'yes', came: 'opened-cold' });
    expect([await state(), await state(sister)]).toEqual(['held', 'open']);
    await complain({ mould: 'yes', came: 'sealed', jar: '2' });
    expect([await state(sister), await stops(sister)]).toEqual(['held', ['mould']]);
    await write('action', { lot: sister, found: 'looked', done: 'counted', jarsMouldy: '0', jarsSound: '4' });
    expect(await stops(sister)).toEqual(['mould-looked-at']);
    done(await releaseLot(season.book, writeContext(), sister, 'the other pack’s lids'));
    expect(await state(sister)).toBe('released');
  });

  test.each([
    ['the note of the pack', () => correct('pack', pack, { note: 'lids bulging on two' })],
    ['its looks', () => correct('pack', pack, { clarity: 'clear', mould: 'not-known' })],
    ['the note of the boil', () => correct('boil', '26077A', { note: 'moisissure in the can' })],
    ['what an action found', () => act({ found: 'white fuzz at the rim' })],
    ['a French complaint', () => complain({ said: 'le couvercle est gonflé' })],
  ])('%s needs an answer, and “no” ends the hold', async (_, tell) => {
    await tell();
    expect([await state(), await stops()]).toEqual(['held', ['spoilage-question']]);
    await write('answer', { lot: pack, answer: 'no' });
    expect(await stops()).toEqual([]);
  });

  test.each(['out of gas on the last day', 'candy molds filled from it', 'leaf moulds', 'sans moisissure, limpide'])(
    'a note “%s” holds nothing',
    async (note) => {
      await correct('pack', pack, { note });
      expect(await state()).toBe('open');
    },
  );
});
