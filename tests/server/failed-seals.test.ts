import { beforeAll, describe, expect, test } from '@jest/globals';
import { engines } from '../support/engines.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';

describe.each(engines())('on $name', (engine) => {
  const here = recallSuite(engine);
  const post = async (url: string, fields: Record<string, string>) =>
    here.send(url, { ...hiddenFieldsIn((await here.open(url)).body), ...fields });
  const page = async (url: string): Promise<string> =>
    (await here.open(url)).body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
  const send = (jars: string, more: Record<string, string> = {}) =>
    post('/dispatches/new', { lot: pack, to: 'the stall', kind: 'sale', 'sentAt~ago': 'now', jars, ...more });
  let pack = '';
  let jars: string[] = [];

  beforeAll(async () => {
    pack = await here.aPack(here.boil, {
      ...{ jars: '6', fillTemps: ['176 F jar 1', '186 F jar 2', '186 F jar 6'] },
      ...{ sealsFailed: '1', sealsOutcome: 'thrown out' },
    });
    const acted = {
      found: 'jar 1 was cold',
      cause: 'cold-jar',
      way: 'reheated-and-repacked',
      done: 'heated, filled again',
    };
    await post(`/lots/${pack}/act`, { ...acted, jars: '1', fillTemps: '187 F jar 1' });
    await post(`/lots/${pack}/release`, { why: 'hot enough now' });
    here.at.clock.now = new Date(here.at.clock.now.getTime() + 13 * 3_600_000);
    expect((await post(`/packs/${pack}/seals`, { sealsFailed: '1', sealsOutcome: 'thrown out' })).statusCode).toBe(303);
    jars = (await here.at.book.read.rows<{ code: string }>`SELECT code FROM jar WHERE pack = ${pack} ORDER BY n`).map(
      ({ code }) => code,
    );
  });

  test('a second count of seals stores what was entered, and nothing about lids or how warm the jars were', async () => {
    const action = (await here.records('action')).findLast(({ body }) => body.lot === pack)?.body;
    expect(action).toMatchObject({
      ...{ found: 'seals checked again: 1 failed', done: 'thrown out', cause: 'packed again' },
      ...{ sealsFailed: 1, sealsOutcome: 'thrown out', jars: { typed: '1' } },
    });
  });

  test('a second count without a number is refused: nothing was counted', async () => {
    const other = await here.aPack(here.boil, { jars: '6', fillTemps: ['176 F'], sealsFailed: '0' });
    const acted = { found: 'cold', cause: 'cold-jar', way: 'reheated-and-repacked', done: 'filled again' };
    await post(`/lots/${other}/act`, { ...acted, jars: '1-3', fillTemps: '187 F jar 3' });
    const blank = await post(`/packs/${other}/seals`, { sealsOutcome: 'thrown out' });
    expect([blank.statusCode, blank.body.includes('how many seals failed, 0 if none did')]).toEqual([422, true]);
  });

  test('a jar whose own seal failed can’t be sold, given or sampled, and its pages say so', async () => {
    for (const kind of ['sale', 'gift', 'sample']) {
      const refused = await send(jars[0]!, { kind });
      expect(refused.statusCode).toBe(409);
      expect(refused.body).toContain(
        'by the records the seal of jar 1 failed (thrown out), so it may not be sold or given',
      );
    }
    const own = await page(`/jars/${jars[0]}`);
    expect(own).toMatch(/SEAL FAILED .*Not recorded: where it is now\. .*By the records its seal failed/);
    expect(own).not.toContain('On the shelf, by the records');
    expect(await page(`/J/${jars[0]}`)).toMatch(/SEAL FAILED .*do not eat this syrup/);
    expect(await page(`/jars/${jars[1]}`)).toContain('On the shelf, by the records.');
    expect(await page(`/lots/${pack}/trace`)).toMatch(/no\. 1 of \S+: its seal failed: not for sale/);
  });

  test('by count no more jars may be sold than are left without those of both counts', async () => {
    const five = await send('5');
    expect([five.statusCode, /2 of 6 seals failed \(thrown out\), so 4 more jars may be sold/.test(five.body)]).toEqual(
      [409, true],
    );
  });

  test('its pack asks what became of jars with failed seals until that is recorded', async () => {
    const asked = `2 jars whose seal failed (thrown out) still count as on hand. Record them as destroyed, broken or kept.`;
    expect(await page(`/lots/${pack}`)).toContain(asked);
    const form = (await here.open(`/dispatches/new?lot=${pack}&kind=destroyed`)).body;
    expect(form).toMatch(/<input[^>]*name="kind"[^>]*value="destroyed"[^>]*checked/);
    expect((await send(jars[0]!, { kind: 'destroyed', to: 'compost' })).statusCode).toBe(303);
    expect(await page(`/lots/${pack}`)).toContain('1 jar whose seal failed (thrown out) still counts as on hand.');
    expect(await page(`/J/${jars[0]}`)).toContain('RECORDED AS DESTROYED');
    expect((await send('1', { kind: 'kept', to: 'our kitchen' })).statusCode).toBe(303);
    expect(await page(`/lots/${pack}`)).not.toContain('whose seal failed');
    const sold = await send('4');
    expect(sold.statusCode).toBe(303);
  });
});
