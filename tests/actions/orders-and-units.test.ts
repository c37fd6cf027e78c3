import { describe, expect, test } from '@jest/globals';
import { sqlite } from '../support/engines.js';
import { done, problemOf, recordOrThrow, write, writeContext } from '../support/sugarhouse.js';
import { record } from '#libs/actions/record/record.js';
import { lines } from '#libs/actions/kinds/boil-line.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { pack, seasonCopies } from '../support/season-copies.js';

/** Times out of order and temperatures in the other unit: the notes shown on saving, and the findings. */
const season = seasonCopies(sqlite());
const aRun = { fromLots: '26077A:8 fl oz', jars: '1' };
const packed = async (but: Record<string, string>) => {
  const { id, notes } = done(await write(season.book, 'pack', { ...aRun, ...but }));
  const findings = (await season.findings(id)).filter(({ rule }) => !ordinary.includes(rule));
  return { id, notes: notes.join(' '), state: await season.state(id), stops: await season.stops(id), findings };
};
const ordinary = ['drawn-more-than-there', 'thermometer-not-checked'];
const boiled = async (but: Record<string, string>) => {
  const { id, notes } = done(await write(season.book, 'boil', { sapVolume: '120 gal', gatherings: '', ...but }));
  return { id, notes: notes.join(' '), findings: (await season.findings(id)).map(({ found }) => found).join(' ') };
};

describe('a pack’s time', () => {
  test('before its boil ended shows a note and an advisory, and holds nothing', async () => {
    const early = await packed({ packedAt: '2026-03-18T12:00' });
    expect(early.notes).toContain('Packed 7 h before boil 26077A ended. Which time is wrong?');
    expect([early.state, early.findings.map(({ rule }) => rule)]).toEqual(['open', ['times-out-of-order']]);
  });

  test('is right after a draw-off of a boil that goes on', async () => {
    await recordOrThrow(season.book, 'draw', { drawnAt: '2026-03-18T11:00' });
    expect(await packed({ packedAt: '2026-03-18T12:00' })).toMatchObject({ notes: '', findings: [] });
  });

  test('before its boil’s rest ended', async () => {
    await season.correct('boil', '26077A', { restedFrom: '2026-03-18T20:00', restedUntil: '2026-03-19T23:00' });
    const found = expect.stringContaining('boil 26077A rested until 13 h after this was packed');
    expect(await season.findings(pack)).toContainEqual(expect.objectContaining({ rule: 'times-out-of-order', found }));
    expect((await packed({})).notes).toContain('Boil 26077A rested until 13 h after this was packed.');
  });

  test('in a later year; syrup in bulk is packed for months', async () => {
    const now = { now: new Date('2028-03-01T12:00:00Z') };
    const late = done(await write(season.book, 'pack', { ...aRun, packedAt: '2027-10-19T10:00' }, now));
    expect(late.notes.join(' ')).toContain('Packed 580 days after boil 26077A began. Is the year right?');
    const inFall = done(await write(season.book, 'pack', { ...aRun, packedAt: '2026-10-19T10:00' }, now));
    expect(inFall.notes).toEqual([]);
  });
});

test('sap gathered after its boil ended shows a note and a finding of the boil', async () => {
  await recordOrThrow(season.book, 'gathering', { id: 'G9', gatheredAt: '2026-03-19T15:00', volume: '120 gal' });
  const late = await boiled({ sapVolume: '', gatherings: 'G9:120 gal' });
  expect(late.notes).toContain(`G9 was gathered 20 h after ${late.id} ended, which it went into.`);
  expect(late.findings).toContain('Which date is wrong?');
  await recordOrThrow(season.book, 'gathering', { id: 'G8', gatheredAt: '2026-03-18T15:00', volume: '120 gal' });
  expect(await boiled({ sapVolume: '', gatherings: 'G8:120 gal' })).toMatchObject({ notes: '', findings: '' });
});

test('a complaint from before its lot was packed is refused; one of that day is not', async () => {
  const complain = (at: string) =>
    record(season.book, writeContext(), kindByName.get('complaint')!, { lot: pack, at, said: 'lovely' });
  expect(problemOf(await complain('2026-03-18T10:00')).text).toContain('2026-03-19, when 26077A-1 was packed');
  done(await complain('2026-03-19T09:00'));
});

describe('a temperature in the other unit', () => {
  test('a kettle of 88 °F is asked about and holds; 88 °C is not', async () => {
    const cold = await packed({ hotPackTemp: '88 F' });
    expect(cold.notes).toContain('The kettle at 88 °F: did you mean 88 °C?');
    expect([cold.state, cold.stops]).toEqual(['held', ['kettle-too-cold']]);
    expect(cold.findings[0]?.found).toContain('did you mean 88 °C?');
    expect(await packed({ hotPackTemp: '88 C' })).toMatchObject({ state: 'open', notes: '' });
    // Colder than the jar that was filled from it.
    const contradicted = await packed({ hotPackTemp: '60 C' });
    expect([contradicted.state, contradicted.stops]).toEqual(['held', ['kettle-too-cold']]);
    expect(contradicted.findings[0]?.found).toContain('in a jar filled from it');
    expect(await packed({ hotPackTemp: '59.9 C' })).toMatchObject({ state: 'held' });
    expect((await packed({ hotPackTemp: '190 C' })).notes).toContain('did you mean 190 °F?');
  });

  test('a sample typed in °C, where the density passes only so, is asked about', async () => {
    const sample = { densityReading: '63.5 Bx', densityBy: 'hydrometer' };
    const asked = await packed({ ...sample, densityAt: '68 C' });
    expect([asked.state, asked.stops]).toEqual(['held', ['unit-question']]);
    // Passes by either unit, and fails by either.
    expect(await packed({ ...sample, densityReading: '67.2 Bx', densityAt: '21 C' })).toMatchObject({ stops: [] });
    expect((await packed({ ...sample, densityAt: '68 F' })).stops).toEqual(['density-too-thin']);
    // A house that reads everything in °C is not asked.
    const allInC = { ...sample, densityAt: '68 C', hotPackTemp: '88 C', fillTemps: '86 C' };
    expect(await packed(allInC)).toMatchObject({ state: 'open' });
  });

  test('°Bé typed as °Bx shows a note, and is judged as recorded', async () => {
    for (const densityReading of ['36 Bx', '31.5 Bx']) {
      const thin = await packed({ densityReading, densityAt: '60 F', densityBy: 'hydrometer' });
      expect(thin.notes).toContain('is far thinner than syrup: did you mean °Bé?');
      expect(thin.stops).toEqual(['density-too-thin']);
    }
    expect((await packed({})).notes).toBe('');
  });

  test('a jar of 88 °F is asked about once, when it is saved, and holds', async () => {
    const cold = await packed({ fillTemps: '188 F;88 F' });
    expect(cold).toMatchObject({ state: 'held', notes: 'A jar at 88 °F: did you mean 88 °C?' });
    const later = done(
      await record(season.book, writeContext(), packsUnderway, { fillTemps: '186 F' }, { add: true, of: cold.id }),
    );
    expect(later.notes).toEqual([]);
    expect((await packed({ fillTemps: '150 F' })).notes).toBe('');
  });

  test.each([
    ['38 C', ['Sap at 38 °C. Did you mean 38 °F?']],
    ['4 F', ['Sap at 4 °F. Did you mean 4 °C?']],
    ['88 C', ['Sap at 88 °C. Is it right?']],
    ['88 F', ['Sap at 88 °F. Is it right?']],
    ['40 F', []],
    ['4 C', []],
  ])('sap at %s is asked about when it is saved, and by its boil', async (temperature, notes) => {
    const sap = done(
      await record(season.book, writeContext(), kindByName.get('gathering')!, {
        ...{ id: `G-${temperature.replace(' ', '')}`, gatheredAt: '2026-03-17T16:00', source: 'upper lines' },
        ...{ volume: '90 gal', temperature },
      }),
    );
    expect(sap.notes).toEqual(notes);
    const boil = await boiled({ gatherings: `${sap.id}:90 gal` });
    expect(boil.findings.includes(notes[0]?.slice(1) ?? 'ap at')).toBe(notes.length > 0);
  });

  test('a pan at 219 °C is asked about when it is saved', async () => {
    const boil = await boiled({});
    const line = { lot: boil.id, at: '2026-03-18T09:00' };
    const hot = done(await record(season.book, writeContext(), lines, { ...line, temperature: '219 C' }));
    expect(hot.notes).toEqual(['The pan at 219 °C. Did you mean 219 °F?']);
    const usual = done(await record(season.book, writeContext(), lines, { ...line, temperature: '219 F' }));
    expect(usual.notes).toEqual([]);
  });

  test.each([
    [{ finishTemp: '104 F' }, 'rawn off at 104 °F. Did you mean 104 °C?'],
    [{ finishTemp: '219 C' }, 'rawn off at 219 °C. Did you mean 219 °F?'],
    [{ waterBoilsAt: '99 F' }, 'ater boils at 99 °F. Did you mean 99 °C?'],
    [{ waterBoilsAt: '150 F' }, 'ater boils at 150 °F. Is it right?'],
  ])('a boil with %j shows a note and a finding', async (fields, says) => {
    const boil = await boiled(fields);
    expect([boil.notes, boil.findings]).toEqual([expect.stringContaining(says), expect.stringContaining(says)]);
  });

  test('a boil at 219 °F, water at 210.5 °F, is not', async () => {
    expect(await boiled({ finishTemp: '219 F', waterBoilsAt: '210.5 F' })).toMatchObject({ notes: '', findings: '' });
  });
});

describe('a thin pack poured into another', () => {
  const poured = async (but: Record<string, string>) => {
    const thin = await packed({
      densityReading: '64 Bx',
      densityAt: '60 F',
      densityBy: 'hydrometer',
      jars: '4',
      fromLots: '26077A:1 qt',
    });
    return packed({ fromLots: `${thin.id}:8 fl oz`, packedAt: '2026-03-20T10:00', ...but });
  };
  test.each([{}, { note: 'not boiled again' }, { note: 'poured in without boiling' }, { note: 'all hands' }])(
    'with %j is asked about',
    async (but) => expect((await poured(but)).stops).toEqual(['thin-syrup-question']),
  );
  test.each([{ note: 'boiled up to 217.2 F first' }, { hotPackTemp: '217 F' }])(
    'with %j is not: it was boiled again',
    async (but) => expect((await poured(but)).stops).toEqual([]),
  );
  test('is judged by its own density where that fails', async () => {
    const own = { densityReading: '64 Bx', densityAt: '60 F', densityBy: 'hydrometer' };
    expect((await poured(own)).stops).toEqual(['density-too-thin']);
  });
});
