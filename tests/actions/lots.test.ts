import { describe, expect, test } from '@jest/globals';
import { ruleTitle } from '#libs/syrup/rules/rules.js';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { findLabelablePack } from '#libs/actions/labels/label-run.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { record } from '#libs/actions/record/record.js';
import { historyOf } from '#libs/store/log/log.js';
import { findLot } from '#libs/store/queries/lots.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { engines } from '../support/engines.js';
import { writeContext, done, problemOf, recordOrThrow } from '../support/sugarhouse.js';
import { pack, seasonCopies } from '../support/season-copies.js';

describe.each(engines())('A lot on $name', (engine) => {
  const season = seasonCopies(engine);
  const { state, stops, packMore } = season;
  const judging = () => loadJudgingContext(season.book.read, writeContext());
  const release = (code: string) => releaseLot(season.book, writeContext(), code, 'read again, all well');

  // Each hold, and the corrective action whose new readings end it.
  test.each<[string, Record<string, string | string[]>, Record<string, string | string[]>]>([
    ['fill-temperature', { fillTemps: ['186 F', '179.9 F'] }, { fillTemps: ['188 F jar 2', '186 F jar 4'] }],
    ['fill-not-read', { fillTemps: '' }, { fillTemps: '186 F jars 1-4' }],
    [
      'density-not-read',
      { densityReading: '', densityAt: '', densityBy: '' },
      { densityReading: '67.1 Bx', densityBy: 'refractometer-atc' },
    ],
    ['density-too-thin', { densityReading: '66.4 Bx' }, { densityReading: '67.1 Bx', densityBy: 'refractometer-atc' }],
    [
      'density-measure-again',
      { densityReading: '66.8 Bx' },
      { densityReading: '67.1 Bx', densityBy: 'refractometer-atc' },
    ],
    ['density-too-thick', { densityReading: '69.4 Bx' }, { densityReading: '68.0 Bx', densityBy: 'refractometer-atc' }],
    ['seals-failed', { sealsFailed: '1' }, { sealsOutcome: 'kept cold, used at home' }],
    ['off-flavour', { offFlavour: 'scorched' }, { offFlavour: 'none' }],
    ['cloudy', { clarity: 'hazy' }, { clarity: 'clear' }],
  ])(
    'with %s is held; after a corrective action its new readings pass, and a maker releases it',
    async (rule, bad, cure) => {
      const { id } = await packMore(bad);
      expect(await stops(id)).toEqual([rule]);
      expect(await state(id)).toBe('held');
      expect(problemOf(await findLabelablePack(await judging(), id))).toMatchObject({
        kind: 'refused',
        text: expect.stringContaining(ruleTitle(rule)),
      });
      expect(problemOf(await release(id))).toMatchObject({
        kind: 'refused',
        text: expect.stringMatching(new RegExp(`stays held.*${ruleTitle(rule)}.*ecord the corrective action`)),
      });
      await recordOrThrow(season.book, 'action', { lot: id, jars: 'all', cause: 'cold-jar', ...cure });
      expect(await stops(id)).toEqual([]);
      // Still held until somebody releases it.
      expect(await state(id)).toBe('held');
      done(await release(id));
      expect(await state(id)).toBe('released');
      expect(await findLabelablePack(await judging(), id)).toMatchObject({ lot: { code: id } });
      expect((await historyOf(season.reader(), id)).map((each) => each.entryType)).toEqual([
        'record',
        'act',
        'release',
      ]);
      expect(await verifyBook(season.book)).toMatchObject({ ok: true });
    },
  );

  test('of a boil with an unanswered defoamer is held until the allergens are recorded, and then lists them', async () => {
    await recordOrThrow(season.book, 'boil', {
      beganAt: '2026-03-20T07:00',
      finishedAt: '2026-03-20T19:00',
      gatherings: '',
      defoamer: 'butter',
    });
    const { id } = await packMore({ fromLots: '26079A:1 qt', packedAt: '2026-03-21T10:00' });
    expect(await stops(id)).toEqual(['defoamer-allergens']);
    await recordOrThrow(season.book, 'action', {
      lot: id,
      found: 'not written',
      done: 'asked',
      defoamerAllergens: 'milk',
    });
    expect(await stops(id)).toEqual([]);
    expect((await findLot(season.reader(), id))?.verdict?.allergens).toEqual(['milk']);
    done(await release(id));
  });

  test('with more in its jars than was drawn is held until its count is corrected and a maker releases it', async () => {
    // A quart is four half pints; five are a quarter more.
    const { id } = await packMore({ jars: '5' });
    expect(await stops(id)).toEqual(['more-in-jars-than-drawn']);
    done(await correctEntry(season.book, writeContext(), id, 'a fifth jar of another pack', { jars: '4' }));
    expect([await state(id), await stops(id)]).toEqual(['held', []]);
    done(await release(id));
    expect(await state(id)).toBe('released');
  });

  test('stays held after an action that doesn’t cure it', async () => {
    const { id } = await packMore({ fillTemps: '178 F' });
    await recordOrThrow(season.book, 'action', { lot: id, fillTemps: '179 F' });
    expect(await stops(id)).toEqual(['fill-temperature']);
    expect(problemOf(await release(id)).kind).toBe('refused');
  });

  test('stays held when a correction takes its hold away, until it is released with a reason', async () => {
    const { id } = await packMore({ fillTemps: '18 F' });
    expect(await state(id)).toBe('held');
    done(await correctEntry(season.book, writeContext(), id, 'the 4 was not written', { fill_temps: '184 F' }));
    expect([await state(id), await stops(id)]).toEqual(['held', []]);
    expect((await findLot(season.reader(), id))?.verdict?.awaitsRelease).toMatch(/Fill temperature.*18 °F/);
    // Later entries don't open it either: only a release does.
    await recordOrThrow(season.book, 'pack', { note: 'labels next week' }, {}, { of: id, add: true });
    expect(await state(id)).toBe('held');
    done(await release(id));
    expect(await state(id)).toBe('released');
    expect((await findLot(season.reader(), id))?.verdict?.awaitsRelease).toBeUndefined();
  });

  test('names every hold that corrections took away, not only the first', async () => {
    const { id } = await packMore({ fillTemps: '18 F', offFlavour: 'buddy' });
    done(await correctEntry(season.book, writeContext(), id, 'another pack', { off_flavour: 'none' }));
    done(await correctEntry(season.book, writeContext(), id, 'the 4 was not written', { fill_temps: '184 F' }));
    expect([await state(id), await stops(id)]).toEqual(['held', []]);
    expect((await findLot(season.reader(), id))?.verdict?.awaitsRelease).toMatch(
      /Off flavour.*Fill temperature.*18 °F/,
    );
  });

  test('corrected so that it breaks a hold rule is held from then on', async () => {
    done(
      await correctEntry(season.book, writeContext(), pack, 'the thermometer was read wrong', {
        'fill-temps': '179 F',
      }),
    );
    expect(await state()).toBe('held');
    expect(await stops()).toEqual(['fill-temperature']);
  });

  test('that was heated to a boil again needs its density read again', async () => {
    await recordOrThrow(season.book, 'action', {
      lot: pack,
      found: 'thin by the look of it',
      done: 'boiled up',
      hotPackTemp: '218 F',
      fillTemps: '190 F',
    });
    expect(await stops()).toEqual(['density-not-read']);
    expect(await state()).toBe('held');
    await recordOrThrow(season.book, 'action', {
      lot: pack,
      found: 'density',
      done: 'read again',
      jars: 'all',
      cause: 'boiled up',
      densityReading: '67.9 Bx',
      densityBy: 'refractometer-atc',
    });
    expect(await stops()).toEqual([]);
  });

  test.each([
    [
      'in the pack',
      async () =>
        void (await recordOrThrow(
          season.book,
          'pack',
          { lot: pack, offFlavour: 'mouldy' },
          {},
          { why: 'tasted again' },
        )),
    ],
    [
      'by an action',
      async () =>
        void (await recordOrThrow(season.book, 'action', {
          lot: pack,
          found: 'mold on top of two jars',
          done: 'skimmed',
          offFlavour: 'none',
          clarity: 'clear',
          fillTemps: '190 F',
        })),
    ],
  ])('with mould, found %s, is never released, whatever is read afterwards', async (_, find) => {
    await find();
    expect(await stops()).toContain('spoilage-question');
    done(await record(season.book, writeContext(), kindByName.get('answer')!, { lot: pack, answer: 'yes' }));
    expect(await stops()).toContain('mould');
    await recordOrThrow(season.book, 'action', {
      lot: pack,
      found: 'looked again',
      done: 'boiled again',
      offFlavour: 'none',
      clarity: 'clear',
      fillTemps: '190 F',
      hotPackTemp: '200 F',
    });
    expect(problemOf(await release(pack)).text).toMatch(/Mouldy syrup is destroyed, never released/);
    await recordOrThrow(season.book, 'dispatch', { jars: '48', kind: 'destroyed', to: 'the compost' });
    expect(await state()).toBe('held');
    // The pack it was poured into is mouldy too.
    const { id } = await recordOrThrow(season.book, 'pack', {
      fromLots: `${pack}:1 qt`,
      jars: '4',
      packedAt: '2026-03-25T10:00',
    });
    expect(await stops(id)).toContain('mould');
  });
});
