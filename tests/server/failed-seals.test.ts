import { beforeAll, describe, expect, test } from '@jest/globals';
import { engines } from '../support/engines.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';

describe.each(engines())('on $name', (engine) => {
  const here = recallSuite(engine);
  const post = async (url: string, fields: Record<string, string>) =>
    here.send(url, { ...hiddenFieldsIn((await here.open(url)).body), ...fields });
  let pack = '';

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
});
