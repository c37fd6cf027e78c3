import { kindByName } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import { describe, expect, test } from '@jest/globals';
import { suspectInstrument } from '#libs/actions/facts/suspect-lots.js';
import { voidRecord } from '#libs/actions/record/void-record.js';
import { engines } from '../support/engines.js';
import { seasonCopies } from '../support/season-copies.js';
import { done, writeContext } from '../support/sugarhouse.js';

describe.each(engines())('A density without a named hydrometer on $name', (engine) => {
  const season = seasonCopies(engine);
  const { write, findings, stops, state } = season;
  const byHydrometer = { densityReading: '67.4 Bx', densityAt: '60 F', densityBy: 'hydrometer' };
  const hydrometers = async (...ids: string[]): Promise<void> => {
    for (const id of ids) await write('instrument', { id, what: 'hydrometer' });
  };
  const checkOf = (instrument: string, more: Record<string, string> = {}): Promise<string> =>
    write('check', { instrument, how: 'reference', at: '2026-03-24T08:00', fit: 'no', ...more });
  const packed = async (but: Record<string, string> = {}): Promise<string> =>
    (await season.packMore({ ...byHydrometer, fillTemps: '188 F#T9', ...but })).id;
  const foundOf = async (code: string): Promise<string | undefined> =>
    (await findings(code)).find(({ rule }) => rule === 'density-measure-again')?.found;

  test('is said to be taken to be by the only one, which a check found wrong', async () => {
    await hydrometers('H9');
    const [unnamed, named] = [await packed(), await packed({ instruments: 'H9' })];
    const id = await checkOf('H9');
    const check = `found wrong (check ${id}, 2026-03-24): measure again`;
    expect(await foundOf(unnamed)).toBe(
      `67.4 °Bx at 60 °F by hydrometer, read with a hydrometer taken to be H9, ${check}`,
    );
    expect(await foundOf(named)).toBe(`67.4 °Bx at 60 °F by hydrometer, read with H9, ${check}`);
  });

  test('has no finding by a check that was voided after that of a thermometer', async () => {
    await hydrometers('H9');
    const code = await packed();
    const thermometer = await write('check', { instrument: 'T9', how: 'ice', reads: '37 F', at: '2026-03-23T08:00' });
    const hydrometer = await checkOf('H9');
    for (const id of [thermometer, hydrometer]) {
      expect(await stops(code)).toEqual(['density-measure-again']);
      done(await voidRecord(season.book, writeContext(), 'check', id, 'another instrument'));
    }
    expect([await foundOf(code), await stops(code), await state(code)]).toEqual([undefined, [], 'held']);
    expect((await season.lot(code)).verdict?.awaitsRelease).toMatch(/^A later entry removed a hold/);
  });

  test('stays held when another hydrometer is recorded, and while one of several in use was found wrong', async () => {
    await hydrometers('H9');
    const before = await packed();
    await checkOf('H9');
    await hydrometers('H10');
    await write('lead-test', { lot: before, lead: '40 ppb', at: '2026-03-25T08:00' });
    expect([await stops(before), await state(before)]).toEqual([['density-measure-again'], 'held']);
    const unnamed = await packed({ packedAt: '2026-03-25T10:00' });
    expect(await stops(unnamed)).toEqual(['density-measure-again']);
    expect(await stops(await packed({ packedAt: '2026-03-25T11:00', instruments: 'H10' }))).toEqual([]);
    expect(await stops(await packed({ packedAt: '2026-03-25T12:00', instruments: 'H10;H9' }))).toEqual([
      'density-measure-again',
    ]);
  });

  test('is not taken to be by one that was out of use, while another is in use', async () => {
    await hydrometers('H9', 'H10');
    await checkOf('H9', { done: 'thrown away' });
    expect(await stops(await packed({ packedAt: '2026-03-25T10:00' }))).toEqual([]);
  });

  test('is suspect by a failed check of the instrument that it names, also where nobody recorded that instrument', async () => {
    await hydrometers('H9');
    const [named, unnamed] = [await packed({ instruments: 'X7' }), await packed()];
    const thermometer = await packed({ instruments: 'T7' });
    const check = await checkOf('x-7');
    await write('check', { instrument: 'T7', how: 'ice', reads: '36 F', at: '2026-03-24T09:00' });
    expect(await foundOf(named)).toBe(
      `67.4 °Bx at 60 °F by hydrometer, read with x-7, found wrong (check ${check}, 2026-03-24): measure again`,
    );
    expect([await stops(unnamed), await stops(thermometer)]).toEqual([[], []]);
    // What an unrecorded instrument is isn't known: named and right, it clears no density taken to be read with H9.
    await checkOf('X8', { fit: 'yes' });
    const beside = await packed({ instruments: 'X8' });
    await checkOf('H9', { at: '2026-03-24T10:00' });
    expect([await stops(beside), await stops(unnamed)]).toEqual([['density-measure-again'], ['density-measure-again']]);
    const wayOut = (await findings(unnamed)).find(({ stop }) => stop)?.wayOut;
    expect(wayOut).toMatch(/name the instrument that read it/);
  });

  test.each(['h9', 'H-9', 'h 9', 'H09', 'hydrometer H9'])(
    'that names %s is recalled with H9, and not with H91',
    async (typed) => {
      await hydrometers('H9', 'H91');
      const code = await packed({ instruments: typed });
      const lots = async (thermometer: string) => {
        const found = await suspectInstrument(season.reader(), { thermometer });
        return 'problem' in found ? found.problem : found.lots;
      };
      expect([await lots('H9'), await lots('H91')]).toEqual([[code], []]);
    },
  );

  test('is judged again by a thermometer check of a later year, where its fills name no thermometer either', async () => {
    const later = { now: new Date('2027-02-01T22:00:00Z') };
    const code = (await season.packMore({ fillTemps: '181 F' })).id;
    done(
      await record(season.book, writeContext(later), kindByName.get('check')!, {
        instrument: 'T1',
        how: 'ice',
        reads: '37 F',
        at: '2027-01-05T09:00',
      }),
    );
    expect([await state(code), await stops(code)]).toEqual(['held', ['fill-temperature']]);
  });

  test('without the kind of its instrument may be by a refractometer that was found wrong', async () => {
    await write('instrument', { id: 'R9', what: 'refractometer' });
    const code = await packed({ densityBy: '' });
    await checkOf('R9');
    expect(await stops(code)).toEqual(['density-measure-again']);
  });
});
