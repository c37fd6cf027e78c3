import { describe, expect, test } from '@jest/globals';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { record, type Recorded } from '#libs/actions/record/record.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

const boil = '26077A';

describe.each(engines())('Tanks, water and lead on $name', (engine) => {
  const season = seasonCopies(engine);
  const { state, findings, stops } = season;
  const write = async (kind: RecordKind, sent: Record<string, string>): Promise<Recorded> =>
    done(await record(season.book, writeContext(), kindByName.get(kind)!, sent));
  const pans = { what: 'both pans', with: 'unscented bleach', at: '2026-03-17T18:00' };

  test('a cleaning without a rinse holds the next boil and its packs; a release with a reason opens both', async () => {
    await write('cleaning', { ...pans, rinsed: 'no' });
    expect([await stops(boil), await stops()]).toEqual([['equipment-question'], ['equipment-question']]);
    expect((await findings())[0]?.found).toContain('boil 26077A began after cleaning CL0001 of both pans');
    done(await releaseLot(season.book, writeContext(), boil, 'rinsed in the morning before the sap went in'));
    expect([await state(boil), await state()]).toEqual(['released', 'released']);
  });

  test('rinsed before the boil, cleaned after it, or rinsing not recorded: nothing is held', async () => {
    await write('cleaning', { ...pans, wasRinsed: 'no' });
    await write('cleaning', { ...pans, at: '2026-03-18T06:00', wasRinsed: 'yes', rinsed: 'clean water' });
    expect([await state(boil), await stops(boil), await stops()]).toEqual(['open', [], []]);
    await write('cleaning', { ...pans, at: '2026-03-18T22:00', wasRinsed: 'no' });
    await write('cleaning', { ...pans, what: 'the bench', rinsed: '' });
    expect([await stops(boil), await stops()]).toEqual([[], []]);
  });

  test.each([
    [{ what: 'sap buckets', material: 'galvanized' }, true],
    [{ what: 'front pan', solder: 'lead solder at the corners' }, true],
    [{ what: 'tank', solder: 'terneplate' }, true],
    [{ what: 'front pan', material: 'stainless, welded', solder: 'none' }, false],
    [{ what: 'spouts', solder: 'lead-free solder' }, false],
    [{ what: 'spouts', solder: 'no lead' }, false],
    [{ what: 'old pan', solder: 'lead', note: 'retired in 2010' }, false],
  ])('equipment %j, never tested for lead, is listed with the boil: %s; it holds nothing', async (piece, isListed) => {
    const listed = async () => (await season.advice(boil)).includes('lead-not-tested');
    await write('equipment', { id: 'E1', ...piece });
    expect([await listed(), await stops(boil), await stops()]).toEqual([isListed, [], []]);
    await write('lead-test', { equipment: 'e1', lead: '20 ppb', at: '2026-03-25T09:00' });
    expect(await listed()).toBe(false);
  });

  test('E. coli in the water holds the following boils, until a good test of the same water', async () => {
    const well = { source: 'house well', at: '2026-03-10T09:00' };
    await write('water-test', { ...well, result: 'E. coli present' });
    expect(await stops()).toEqual(['equipment-question']);
    await write('water-test', { source: 'town water', at: '2026-03-11T09:00', result: 'no coliform found' });
    expect(await stops()).toEqual(['equipment-question']);
    await write('water-test', { ...well, at: '2026-03-16T09:00', result: 'no coliform found' });
    expect(await stops()).toEqual([]);
  });

  test('lead over a verified limit: in a pan it needs an answer, in the lot itself an authority', async () => {
    await write('lead-test', { equipment: 'PAN1', lead: '0.26 ppm', at: '2026-03-01T09:00' });
    expect(await stops()).toEqual(['equipment-question']);
    await write('lead-test', { equipment: 'PAN1', lead: '20 ppb', at: '2026-03-02T09:00' });
    expect(await stops()).toEqual([]);
    await write('lead-test', { lot: pack, lead: '250 ppb' });
    expect(await stops()).toEqual([]);
    await write('lead-test', { lot: pack, lead: '251 ppb' });
    expect(await stops()).toEqual(['lead-over-limit']);
    const request = { authority: 'the agency', askedAt: '2026-05-02', answer: 'may be blended and sold in bulk' };
    expect(problemOf(await releaseLot(season.book, writeContext(), pack, 'fine')).kind).toBe('refused');
    done(await releaseLot(season.book, writeContext(), pack, 'as answered', { ...request, byOwner: true }));
    expect(await state()).toBe('released');
  });

  test('where no limit is verified, a lead test is recorded and holds nothing', async () => {
    await recordOrThrow(season.book, 'house', { place: 'New Hampshire' }, {}, { why: 'moved' });
    await write('lead-test', { lot: pack, lead: '900 ppb' });
    expect(await stops()).not.toContain('lead-over-limit');
  });

  test('a pack of held syrup says so, and the question is whether it was heated again', async () => {
    await recordOrThrow(season.book, 'pack', { lot: pack, fillTemps: '170 F' }, {}, { why: 'read again' });
    const poured = { fromLots: `${pack}:1 qt`, jars: '4', packedAt: '2026-03-25T10:00' };
    const cold = await recordOrThrow(season.book, 'pack', { ...poured, hotPackTemp: '' });
    expect(cold.notes.join()).toContain('Was its syrup heated again?');
    expect((await findings(cold.id)).map(({ rule }) => rule)).toContain('poured-from-held');
    const hot = await recordOrThrow(season.book, 'pack', {
      ...poured,
      packedAt: '2026-03-25T11:00',
      hotPackTemp: '195 F',
    });
    expect((await findings(hot.id)).map(({ rule }) => rule)).not.toContain('poured-from-held');
  });

  test('bleach with vinegar or ammonia is warned of, also one after the other without a rinse', async () => {
    const warned = async (sent: Record<string, string>) => (await write('cleaning', { ...pans, ...sent })).notes.join();
    expect(await warned({ with: 'vinegar, then bleach' })).toContain('chlorine');
    expect(await warned({ what: 'tank', with: 'bleach and ammonia' })).toContain('chloramine');
    expect(await warned({ what: 'can', with: 'vinegar', at: '2026-03-17T19:00' })).toBe('');
    expect(await warned({ what: 'can', with: 'bleach', at: '2026-03-17T20:00' })).toContain('chlorine');
    expect(await warned({ what: 'pail', with: 'vinegar', rinsed: 'hot water', at: '2026-03-17T19:00' })).toBe('');
    expect(await warned({ what: 'pail', with: 'bleach', rinsed: 'hot water', at: '2026-03-17T20:00' })).toBe('');
  });
});
