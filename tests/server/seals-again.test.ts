import { beforeAll, describe, expect, test } from '@jest/globals';
import { engines } from '../support/engines.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';

describe.each(engines())('on $name', (engine) => {
  const here = recallSuite(engine);
  const post = async (url: string, fields: Record<string, string>, initials = 'WE') =>
    here.send(url, { ...hiddenFieldsIn((await here.open(url, initials)).body), ...fields }, initials);
  const page = async (url: string, initials = 'WE'): Promise<string> =>
    (await here.open(url, initials)).body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
  const sale = { to: 'the stall', kind: 'sale', 'sentAt~ago': 'now', jars: '1' };

  /** A cold pack whose seals were checked, and some or all of its jars packed again hot. */
  const packedAgain = async (jars: string, fillTemps: string, before = '176 F'): Promise<string> => {
    const pack = await here.aPack(here.boil, { fillTemps: [before], sealsFailed: '0' });
    const acted = {
      found: 'a cold jar',
      cause: 'cold-jar',
      way: 'reheated-and-repacked',
      done: 'heated and packed again',
    };
    expect((await post(`/lots/${pack}/act`, { ...acted, jars, fillTemps })).statusCode).toBe(303);
    return pack;
  };
  let pack = '';
  beforeAll(async () => {
    pack = await packedAgain('all', '186 F jar 3;185 F jar 6');
  });

  test('the seals of a repacked pack have to be checked again, on its page and on Today', async () => {
    expect((await here.open(`/lots/${pack}`)).body).toContain(`href="/packs/${pack}/seals"`);
    expect(await page('/')).toMatch(new RegExp(`Seals to check .*${pack}`));
    expect(await page(`/packs/${pack}/seals`)).toContain('All jars were packed again: check the seals.');
    expect((await here.open(`/packs/${pack}/seals`)).body).toContain('name="sealsFailed"');
  });

  test('no jar can be sold on the old count; a new one, also by a helper, allows it', async () => {
    expect((await post(`/lots/${pack}/release`, { why: 'hot enough now' })).statusCode).toBe(303);
    const early = await post('/dispatches/new', { lot: pack, ...sale });
    expect([early.statusCode, early.body.includes('the seals were not checked')]).toEqual([409, true]);
    const warm = await post(`/packs/${pack}/seals`, { sealsFailed: '0' }, 'JP');
    expect(warm.statusCode).toBe(303);
    const tooEarly = await post('/dispatches/new', { lot: pack, ...sale });
    expect([tooEarly.statusCode, tooEarly.body.includes('too early to tell')]).toEqual([409, true]);
    expect(await page(`/packs/${pack}/seals`)).toContain('They were counted while the jars were warm');
    here.at.clock.now = new Date(here.at.clock.now.getTime() + 13 * 3_600_000);
    const cold = await post(`/packs/${pack}/seals`, { sealsFailed: '0' }, 'JP');
    expect(cold.statusCode).toBe(303);
    expect((await post('/dispatches/new', { lot: pack, ...sale })).statusCode).toBe(303);
    expect((await here.open(`/lots/${pack}`)).body).not.toContain(`href="/packs/${pack}/seals"`);
    // The first count stays in the record.
    expect(await page(`/records/pack/${pack}`)).toMatch(/Seals that failed 0/);
  });

  test('a pack whose seals were counted warm does not say that it may go out, and leads to the count', async () => {
    const packedAt = new Date(here.at.clock.now.getTime() - 3_600_000).toISOString();
    const warm = await here.aPack(here.boil, { packedAt, fillTemps: ['186 F'], sealsFailed: '0' });
    const again = /Check the seals again when they are cold: no jar may be sold or given away before then\./;
    for (const url of [`/lots/${warm}`, '/packs']) expect(await page(url)).toMatch(again);
    expect(await page(`/lots/${warm}`)).not.toMatch(/may go out/i);
    expect((await here.open(`/lots/${warm}`)).body).toContain(`href="/packs/${warm}/seals"`);
    here.at.clock.now = new Date(here.at.clock.now.getTime() + 13 * 3_600_000);
    expect((await post(`/packs/${warm}/seals`, { sealsFailed: '0' })).statusCode).toBe(303);
    expect(await page(`/lots/${warm}`)).toContain('May go out.');
    expect((await here.open(`/lots/${warm}`)).body).not.toContain(`href="/packs/${warm}/seals"`);
  });

  test('of a pack with some jars packed again its page names the jars to check', async () => {
    const some = await packedAgain('1-3', '186 F jar 1;185 F jar 3', '187 F');
    expect(await page(`/lots/${some}`)).toMatch(/Check the seals of jars 1.3 again when they are cold/);
  });

  test('when some jars of a pack were packed again, their new lids are counted, and failed ones hold', async () => {
    const some = await packedAgain('1-6', '186 F jar 3;185 F jar 6');
    expect((await post(`/packs/${some}/seals`, { sealsFailed: '6' })).statusCode).toBe(303);
    const result = (await here.open(`/api/lots/${some}`)).json<{ findings: { rule: string; stop: boolean }[] }>();
    expect(result.findings.filter(({ stop }) => stop).map(({ rule }) => rule)).toContain('seals-failed');
  });

  test('lids counted while warm are counted again when cold, before any jar is sold', async () => {
    const some = await packedAgain('1-6', '186 F jar 3;185 F jar 6');
    expect((await post(`/packs/${some}/seals`, { sealsFailed: '0' })).statusCode).toBe(303);
    await post(`/lots/${some}/release`, { why: 'hot enough now' });
    here.at.clock.now = new Date(here.at.clock.now.getTime() + 13 * 3_600_000);
    const unchecked = await post('/dispatches/new', { lot: some, ...sale });
    expect([unchecked.statusCode, unchecked.body.includes('the seals were not checked')]).toEqual([409, true]);
    expect((await post(`/packs/${some}/seals`, { sealsFailed: '0' })).statusCode).toBe(303);
    const result = (await here.open(`/api/lots/${some}`)).json<{ findings: { rule: string }[] }>();
    expect(result.findings.map(({ rule }) => rule)).not.toContain('seals-not-checked');
  });

  test('lids count as cold twelve hours after the last reading in a jar, not after the start of the pack', async () => {
    const clock = here.at.clock;
    clock.now = new Date('2026-03-25T23:30:00-04:00');
    const packedAt = '2026-03-25T15:10';
    const long = await here.aPack(here.boil, { packedAt, fillTemps: ['188 F@15:40', '187 F@23:00'] });
    clock.now = new Date('2026-03-26T05:30:00-04:00');
    await post(`/packs/${long}/seals`, { sealsFailed: '0' });
    const warm = await post('/dispatches/new', { lot: long, ...sale });
    expect([warm.statusCode, warm.body.includes('6 h 30 min after filling, too early to tell')]).toEqual([409, true]);
    clock.now = new Date('2026-03-26T11:30:00-04:00');
    const counted = await post('/dispatches/new', { lot: long, ...sale });
    expect([counted.statusCode, counted.body.includes('too early to tell')]).toEqual([409, true]);
  });
});
