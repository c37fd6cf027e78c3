import { describe, expect, test } from '@jest/globals';
import { maxItems } from '#libs/actions/record/field-limits.js';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { packs } from '#libs/actions/kinds/pack.js';
import { record } from '#libs/actions/record/record.js';
import { verifyBook } from '#libs/store/log/verify.js';
import { apiSuite, gathering } from '../support/api-suite.js';
import { engines } from '../support/engines.js';

describe.each(engines())('on $name', (engine) => {
  const keyed = apiSuite(engine);
  const { get: request, sent } = keyed;
  const faultOf = (answer: { json: () => unknown }) =>
    (answer.json() as { faults: { field: string; expected: string; got: string }[] }).faults[0];

  /** Writes a record as a release before the limits did. */
  async function writeAsBefore(kind: Kind, more: Record<string, unknown>): Promise<string> {
    const fields = Object.fromEntries(
      Object.entries(kind.fields).map(([name, field]) => [name, { ...field, letters: 1e6, items: 1e6, atMost: 1e6 }]),
    );
    const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: keyed.at.clock.now, zone: 'America/New_York' };
    const done = await record(keyed.at.book, context, { ...kind, fields }, more);
    if ('problem' in done) throw new Error(JSON.stringify(done.problem));
    return done.id;
  }

  test('thirty thousand spaces sent to a calculator without a key are refused without delay', async () => {
    const spaces = ' '.repeat(30_000);
    const ask = (fillAt: string, density: string) =>
      keyed.at.web.inject({
        method: 'POST',
        url: '/api/reckon/shrink',
        headers: { 'content-type': 'application/json' },
        payload: JSON.stringify({ fillAt, density }),
      });
    await ask('180 F', '66.9 Bx');
    const began = process.cpuUsage();
    const answer = await ask(`1${spaces}8`, `6${spaces}!`);
    // Time of this process alone, whatever else the machine does.
    expect(process.cpuUsage(began).user / 1000).toBeLessThan(200);
    expect(answer.statusCode).toBe(422);
    expect(faultOf(answer)).toEqual({ field: 'fillAt', expected: 'at most 100 letters', got: '30002 letters' });
  });

  test('a field accepts as many characters as its kind needs, and the refusal says how many', async () => {
    const formatted = async (more: Record<string, unknown>) =>
      faultOf(await sent('/api/gatherings', { id: 'L1', ...gathering, ...more }))?.expected;
    expect(await formatted({ volume: `80${' '.repeat(97)}gal` })).toBe('at most 100 letters');
    expect(await formatted({ condition: 'x'.repeat(2001) })).toBe('at most 2,000 letters');
    expect((await sent('/api/gatherings', { id: 'L1', ...gathering, condition: 'x'.repeat(2000) })).statusCode).toBe(
      201,
    );
    expect(await formatted({ id: 'L'.repeat(61) })).toBe('an id of at most 60 letters, without : ; or |');
  });

  test(`a pack takes ${maxItems} readings and no more, added one by one or at once`, async () => {
    const pack = {
      fromLots: ['26077A:1 fl oz'],
      packedAt: '2026-03-20T10:00',
      container: 'glass jar 8 fl oz',
      by: 'OE',
    };
    const readings = (count: number) => Array.from({ length: count }, () => '186 F');
    const over = await sent('/api/packs', { ...pack, jars: '1', fillTemps: readings(maxItems + 1) });
    expect([over.statusCode, faultOf(over)?.expected]).toEqual([422, 'a list of at most 2,000']);
    const made = await sent('/api/packs', { ...pack, underway: true, fillTemps: readings(maxItems) });
    expect(made.statusCode).toBe(201);
    const { id } = made.json<{ id: string }>();
    const added = await sent(`/api/packs/${id}/additions`, { underway: true, fillTemps: ['185 F'] });
    expect([added.statusCode, faultOf(added)]).toEqual([
      422,
      { field: 'fillTemps', expected: 'a list of at most 2,000', got: 'a list of 2001' },
    ]);
  });

  test('a pack has at most fifty thousand jars, and an older one with more keeps them', async () => {
    const pack = {
      fromLots: ['26077A:1 fl oz'],
      packedAt: '2026-03-20T10:30',
      container: 'glass jar 8 fl oz',
      by: 'OE',
    };
    const over = await sent('/api/packs', { ...pack, jars: '50001' });
    expect([over.statusCode, faultOf(over)]).toEqual([
      422,
      { field: 'jars', expected: 'at most 50,000', got: '"50001"' },
    ]);
    const old = await writeAsBefore(packs, { ...pack, jars: '50001' });
    const answer = await sent('/api/corrections', { entry: old, why: 'forgotten', changes: { note: 'many' } });
    expect(answer.statusCode).toBe(201);
  }, 60_000);

  test('a longer text of an older book stays readable, and the record’s other fields can be corrected', async () => {
    const long = `80${' '.repeat(300)}gal`;
    const formatted = 'steep '.repeat(1000).trim();
    await writeAsBefore(gatherings, { id: 'OLD1', ...gathering, volume: long, source: formatted });
    const saved = (await request('/api/gatherings/OLD1')).json<{ source: string }>();
    expect(saved.source).toBe(formatted);
    const fixed = await sent('/api/corrections', { entry: 'OLD1', why: 'misread', changes: { temperature: '38 F' } });
    expect([fixed.statusCode, fixed.json()]).toMatchObject([201, { outcome: 'corrected' }]);
    const longer = await sent('/api/corrections', {
      entry: 'OLD1',
      why: 'more',
      changes: { source: `${formatted} more` },
    });
    expect(longer.statusCode).toBe(422);

    const readings = Array.from({ length: maxItems + 500 }, (_, n) => `${184 + (n % 4)} F`);
    const pack = await writeAsBefore(packs, {
      fromLots: ['26077A:1 fl oz'],
      packedAt: '2026-03-20T11:00',
      container: 'glass jar 8 fl oz',
      jars: '1',
      by: 'OE',
      fillTemps: readings,
    });
    const answer = await sent('/api/corrections', { entry: pack, why: 'forgotten', changes: { note: 'second drum' } });
    expect(answer.statusCode).toBe(201);
    const one = await sent('/api/corrections', {
      entry: pack,
      why: 'misread',
      changes: { fillTemps: ['183 F', ...readings.slice(1)] },
    });
    expect(one.statusCode).toBe(201);
    expect((await request(`/lots/${pack}`, 'maker')).statusCode).toBe(200);
    expect(await verifyBook(keyed.at.book)).toMatchObject({ ok: true });
  });

  test('an exponent is not a unit, a point is the decimal mark, and a leap second is not a time', async () => {
    const volume = async (typed: string) =>
      (await sent('/api/gatherings', { id: `V${typed.replace(/\W/g, '')}`, ...gathering, volume: typed })).statusCode;
    expect([await volume('1e5 L'), await volume('1,200 gal'), await volume('1.200 gal')]).toEqual([422, 422, 201]);
    const question = await keyed.at.web.inject('/api/reckon/weight?volume=1.200+gal&density=66.9+Bx');
    const plain = await keyed.at.web.inject('/api/reckon/weight?volume=1.2+gal&density=66.9+Bx');
    expect(question.json<{ grams: number }>().grams).toBe(plain.json<{ grams: number }>().grams);
    const leap = await sent('/api/gatherings', { id: 'V9', ...gathering, gatheredAt: '2026-03-18T23:59:60' });
    expect([leap.statusCode, faultOf(leap)?.expected]).toEqual([
      422,
      'a date and time like 2026-03-19T14:10, with seconds from 00 to 59',
    ]);
  });

  test('a reason may have two thousand characters', async () => {
    const why = 'x'.repeat(2001);
    expect((await sent('/api/corrections', { entry: 'G041', why, changes: { source: 'y' } })).statusCode).toBe(422);
    expect((await sent('/api/lots/26077A/hold', { why })).statusCode).toBe(422);
  });
});
