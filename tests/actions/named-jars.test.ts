import { beforeEach, describe, expect, test } from '@jest/globals';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { record } from '#libs/actions/record/record.js';
import { balanceOf } from '#libs/store/queries/jar-balance.js';
import { findLot } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { formatSpans } from '#libs/syrup/jars/jar-spans.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, recordOrThrow } from '../support/sugarhouse.js';
import { seasonCopies } from '../support/season-copies.js';

describe.each(engines())('A corrective action names its jars and its cause on $name', (engine) => {
  const season = seasonCopies(engine);
  const { write } = season;
  let pack = '';
  beforeEach(async () => {
    pack = (
      await recordOrThrow(season.book, 'pack', {
        fromLots: '26077A:2 gal',
        jars: '32',
        packedAt: '2026-03-20T10:00',
        fillTemps: ['186 F@10:10#T1 jar 8', '178 F@10:20#T1 jar 16', '185 F@10:30#T1 jar 32'],
      })
    ).id;
  });
  const lot = async () => (await findLot(season.reader(), pack))!;
  const held = async (): Promise<string> => {
    const { verdict } = await lot();
    if (!verdict?.findings.some(({ stop }) => stop)) return 'none';
    return verdict.heldJars ? formatSpans(verdict.heldJars) : 'all';
  };
  const stops = async (): Promise<string[]> =>
    (await lot()).verdict?.findings.filter(({ stop }) => stop).map(({ rule }) => rule) ?? [];
  const act = (but: Record<string, string | string[]>) =>
    recordOrThrow(season.book, 'action', {
      lot: pack,
      at: '2026-03-20T14:00',
      jars: '9-31',
      cause: 'cold-jar',
      ...but,
    });
  const balance = () => balanceOf(season.reader(), pack, '2026-12-01T00:00:00.000Z');

  test('without jars or without a cause it is recorded with a note, and clears nothing', async () => {
    expect(await held()).toBe('jars 9–31');
    for (const missing of [{ jars: '' }, { cause: '' }, { jars: '', cause: '' }]) {
      const { notes } = await act({ fillTemps: ['188 F jar 20', '188 F jar 31'], ...missing });
      expect(notes.join()).toMatch(
        /^Saved, but it does not clear the hold: (jars|the cause|jars and the cause) not written/,
      );
      expect(await stops()).toEqual(['fill-temperature']);
      expect(await held()).toBe('jars 9–31');
    }
  });

  test('a fault it found counts all the same', async () => {
    await act({ jars: '', fillTemps: '170 F' });
    expect(await held()).toBe('all');
    await act({ jars: '9-31', cause: '', hotPackTemp: '218 F' });
    expect(await stops()).toEqual(['fill-temperature', 'density-not-read']);
  });

  test('its readings clear the jars that they span, no further back than the house’s interval each', async () => {
    await act({ fillTemps: '188 F jar 31' });
    expect(await held()).toBe('jars 9–19');
    await act({ jars: '9-19', fillTemps: '188 F jar 19' });
    expect(await held()).toBe('none');
    expect((await lot()).state).toBe('held');
    expect(done(await releaseLot(season.book, writeContext(), pack, 'packed again at 188 F'))).toMatchObject({
      lot: pack,
    });
    expect((await lot()).state).toBe('released');
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test.each<[string, Record<string, string | string[]>, string]>([
    ['readings without jar numbers', { fillTemps: ['188 F', '187 F'] }, 'jars 9–31'],
    ['a reading of another jar', { fillTemps: '188 F jar 32' }, 'jars 9–31'],
    ['readings that stop short', { fillTemps: ['188 F jar 12', '187 F jar 20'] }, 'jars 21–31'],
    ['jars that are not those held', { jars: '1-8', fillTemps: '188 F jar 8' }, 'jars 9–31'],
    ['one cold reading among them', { fillTemps: ['188 F jar 12', '178 F jar 20', '187 F jar 31'] }, 'jars 13–30'],
    ['destroyed', { way: 'destroyed' }, 'none'],
    ['poured back in part', { way: 'poured-back', jars: '9-16 and 20' }, 'jars 17–19 and 21–31'],
    ['only inspected', { way: 'inspected' }, 'jars 9–31'],
  ])('%s', async (_, but, left) => {
    await act(but);
    expect(await held()).toBe(left);
  });

  test('one reading for each jar needs no jar numbers', async () => {
    await act({ jars: '9-31', way: 'destroyed' });
    const { id } = await recordOrThrow(season.book, 'pack', {
      fromLots: '26077A:1 qt',
      jars: '4',
      packedAt: '2026-03-21T10:00',
      fillTemps: ['178 F jar 2', '186 F jar 4'],
    });
    pack = id;
    expect(await held()).toBe('jars 1–3');
    const at = '2026-03-21T14:00';
    await act({ at, jars: '1-3', fillTemps: ['188 F', '187 F'] });
    expect(await held()).toBe('jars 1–3');
    await act({ at, jars: '1-3', fillTemps: ['188 F', '187 F', '186 F'] });
    expect(await held()).toBe('none');
  });

  test('a density reading of some jars doesn’t count for the rest', async () => {
    pack = (
      await recordOrThrow(season.book, 'pack', {
        fromLots: '26077A:1 qt',
        jars: '4',
        densityReading: '66.0 Bx',
        packedAt: '2026-03-22T10:00',
      })
    ).id;
    const density = { at: '2026-03-22T14:00', densityReading: '67.2 Bx', densityBy: 'refractometer-atc' };
    await act({ jars: '1-2', ...density });
    expect(await stops()).toEqual(['density-too-thin']);
    expect(await held()).toBe('all');
    await act({ jars: 'all', ...density });
    expect(await stops()).toEqual([]);
  });

  test('after repacking the seals are new, and their old check no longer counts', async () => {
    await act({ jars: '9-31', fillTemps: ['188 F jar 20', '188 F jar 31'] });
    const seals = (await lot()).verdict?.findings.find(({ rule }) => rule === 'seals-not-checked');
    expect(seals).toMatchObject({ stop: false, jars: [{ from: 9, to: 31 }] });
    await act({ jars: '9-31', sealsFailed: '0' });
    expect((await lot()).verdict?.findings.map(({ rule }) => rule)).not.toContain('seals-not-checked');
  });

  test('jars destroyed or poured back are off sale for good, in the verdict and in the reconciliation', async () => {
    const destroyed = await act({ jars: '9-16', way: 'destroyed' });
    expect(destroyed.notes.join()).toContain('counts the jars');
    await act({ jars: '17-31', way: 'poured-back' });
    expect((await lot()).verdict?.gone).toEqual([{ from: 9, to: 31 }]);
    expect(await balance()).toMatchObject({ made: 32, onHand: 9, destroyed: 8, other: 15, parts: { pouredBack: 15 } });
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
    // Corrected to another kind of action, the jars are back on the shelf.
    const typed = { lot: pack, found: 'third jar at 178 F', done: 'nothing yet', jars: '9-16', cause: 'cold-jar' };
    await write('action', { ...typed, at: '2026-03-20T14:00', by: 'WE' }, { of: destroyed.id, why: 'not done' });
    expect(await balance()).toMatchObject({ onHand: 17, destroyed: 0 });
    expect(await verifyBook(season.book)).toMatchObject({ ok: true });
  });

  test('a pack whose jars are all off sale is no longer held by its own rules, and stays a deviation', async () => {
    pack = (
      await recordOrThrow(season.book, 'pack', {
        fromLots: '26077A:1 qt',
        jars: '4',
        densityReading: '66.0 Bx',
        packedAt: '2026-03-22T10:00',
      })
    ).id;
    expect(await stops()).toEqual(['density-too-thin']);
    const at = '2026-03-22T14:00';
    await act({ at, jars: 'all', cause: 'thin', way: 'poured-back' });
    expect(await stops()).toEqual([]);
    expect((await lot()).verdict?.findings.map(({ rule }) => rule)).toContain('density-too-thin');
    await act({ at, jars: 'all', cause: 'mould', way: 'destroyed', found: 'mould under the lid' });
    expect(await stops()).toEqual([]);
    expect((await lot()).verdict?.findings.map(({ rule }) => rule)).toContain('spoilage-question');
  });

  test('jar numbers that are invalid, or not in the pack, are refused', async () => {
    const refusedJars = async (jars: string): Promise<string> =>
      problemOf(
        await record(season.book, writeContext(), kindByName.get('action')!, {
          lot: pack,
          found: 'x',
          done: 'y',
          jars,
        }),
      ).text;
    expect(await refusedJars('some')).toContain('jars by number like 13-18 or 9-16 and 31, or all');
    expect(await refusedJars('9-33')).toContain('jar numbers from 1 to 32');
    expect(await refusedJars('16-9')).toContain('jars by number');
  });
});
