import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { record } from '#libs/actions/record/record.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { recallLot } from '#libs/actions/lots/recall-lots.js';
import { writeContext, done } from '../support/sugarhouse.js';
import { documentsOf } from '../support/documented-season.js';
import { act, begun, begunWith, engine, release, rowOf } from '../support/one-pack-season.js';

beforeAll(() => engine.start());
afterAll(() => engine.stop());

describe('a broken hold rule stays in the summary', () => {
  test('the lowest fill is of the remaining jars, and readings replaced by a corrective action are mentioned', async () => {
    const book = await begunWith(
      { fillTemps: ['188 F jars 1-16', '178 F jars 17-32', '181 F#T1 jars 33-48'] },
      (on) => act(on, { fillTemps: ['187 F jars 17-24', '188 F jars 25-32'], sealsFailed: '0' }),
      (on) => release(on),
    );
    const read = await documentsOf(book);
    expect(rowOf(read)).toMatchObject({ 'Lowest fill (deg F)': '181', 'Fill readings replaced': '178 F' });
    expect(read.json.lots[0]).toMatchObject({ lowestFillF: 181 });
    expect(read.pageOne).toContain('181 F, T1; 178 F replaced');
  });

  test('a hold rule that was broken stays among the deviations, from first to last', async () => {
    const book = await begunWith({ fillTemps: ['188 F jars 1-16', '178 F jars 17-32', '186 F jars 33-48'] }, (on) =>
      act(on, { fillTemps: ['187 F jars 17-24', '188 F jars 25-32'], sealsFailed: '0' }),
    );
    const acted = await documentsOf(book);
    expect(acted.sheet('Deviations')).toMatchObject([
      { Lot: '26077A-1', Rule: 'Fill temperature', Open: 'yes', Ended: expect.stringContaining('NOT RELEASED') },
    ]);
    await release(book);
    const read = await documentsOf(book);
    const [row, ...rest] = read.sheet('Deviations');
    expect(rest).toEqual([]);
    expect(row).toMatchObject({
      Rule: 'Fill temperature',
      Found: expect.stringContaining('178 °F'),
      Limit: expect.stringContaining('180 °F or more'),
      'New readings': '187 °F, jars 17-24; 188 °F, jars 25-32',
      Open: 'no',
      Ended: 'released 2026-05-02 08:00 by WE: filled again at 187 F',
    });
    expect(row?.['Done']).toContain('reheated to 195 F');
    expect(read.json.totals).toMatchObject({ deviations: 1, deviationsOpen: 0 });
    expect(read.pageOne).toContain('Deviations: 1, still open: 0');
    expect(read.pageOne).toMatch(/26077A-1 Fill temperature: 178 °F.*released 2026-05-02 WE/);
  });

  test('a cold jar poured back while filling is a deviation that says so, and no correction', async () => {
    const pouredBack = { fillTemps: '178 F jars 17-32 poured back' };
    const book = await begunWith({ fillTemps: ['188 F jars 1-16', '178 F jars 17-32'] }, async (on) =>
      done(await record(on, writeContext(), packsUnderway, pouredBack, { add: true, of: '26077A-1' })),
    );
    const read = await documentsOf(book);
    expect(read.sheet('Deviations')[0]).toMatchObject({
      Rule: 'Fill temperature',
      Done: expect.stringContaining('no longer applies, cleared by pouring its jars back and filling them again'),
    });
    expect(read.sheet('Corrections')).toEqual([]);
  });

  test('a hold by hand and a recall are deviations too, with their reasons', async () => {
    const book = await begun(
      (on) => holdLot(on, writeContext(), '26077A-1', 'a jar came back leaking').then(done),
      (on) => release(on, 'one bad lid, thrown out'),
      (on) =>
        recallLot(on, writeContext({ now: new Date('2026-05-03T12:00:00Z') }), '26077A-1', 'a second jar leaked').then(
          done,
        ),
    );
    const read = await documentsOf(book);
    expect(read.sheet('Deviations')).toMatchObject([
      { Rule: 'held by hand', Found: 'a jar came back leaking', Open: 'no' },
      {
        Rule: 'recalled',
        Found: 'a second jar leaked',
        'Held since': expect.stringContaining('2026-05-03'),
        Open: 'yes',
        Ended: 'RECALLED',
      },
    ]);
    expect(read.pageOne).toContain('RECALLED, 1 lot: 26077A-1');
  });

  test('a correction that changed a verdict is listed with both values', async () => {
    const book = await begunWith({ fillTemps: ['188 F', '178 F', '185 F'] }, async (on) =>
      done(
        await correctEntry(on, writeContext(), '26077A-1', 'read the 8 for a 7', { fillTemps: '188 F;188 F;185 F' }),
      ),
    );
    const read = await documentsOf(book);
    const rows = read.sheet('Corrections');
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({ Lot: '26077A-1', Was: '178 °F', Now: '188 °F', Why: 'read the 8 for a 7' });
    expect(rows[0]?.['Verdict before']).toContain('held: Fill temperature (178 °F');
    // Scripts go by the rule's stored name.
    expect(read.json.corrections[0]?.before).toContain('held: fill-temperature (178 °F');
    expect(read.pageOne).toContain('Corrections that changed a verdict: 1');
    expect(read.pageOne).toMatch(/fill temps 178 °F (?:→|->) 188 °F/);
  });
});
