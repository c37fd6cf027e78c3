import { beforeAll, describe, expect, test } from '@jest/globals';
import { readRecall } from '#libs/actions/recall/read-recall.js';
import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import { groupsOf } from '#libs/reports/recall/recall-jars.js';
import { writeContext } from '../support/sugarhouse.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { engines } from '../support/engines.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';

describe.each(engines())('on $name', (engine) => {
  const here = recallSuite(engine);
  let pack = '';
  let jars: string[] = [];
  beforeAll(async () => {
    pack = await here.aPack(here.boil, {
      fromLots: [`${here.boil}:0.8 gal`],
      jars: '12',
      fillTemps: ['186 F jar 6', '176 F jars 7-9', '185 F jar 12'],
    });
    jars = (await here.at.book.read.rows<{ code: string }>`SELECT code FROM jar WHERE pack = ${pack} ORDER BY n`).map(
      ({ code }) => code,
    );
    const url = `/lots/${pack}/act`;
    const acted = {
      found: 'three jars at 176 F',
      jars: '7-12',
      cause: 'cold-jar',
      way: 'poured-back',
      done: 'into the kettle',
    };
    const answer = await here.send(url, { ...hiddenFieldsIn((await here.open(url)).body), ...acted });
    expect(answer.statusCode).toBe(303);
    const released = await here.send(`/lots/${pack}/release`, {
      ...hiddenFieldsIn((await here.open(`/lots/${pack}/release`)).body),
      why: 'the cold ones are poured back',
    });
    expect([released.statusCode, await here.state(pack)]).toEqual([303, 'released']);
  });
  const page = async (url: string): Promise<string> =>
    (await here.open(url)).body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');

  test('the page of a jar that was poured back shows the action, who did it and its record; that of another jar does not', async () => {
    const gone = await page(`/jars/${jars[6]}`);
    expect(gone).toMatch(/DESTROYED .*By the records it was poured back on 20 Mar 2026/);
    expect(gone).toMatch(/poured back 6 jars of \S+ : 7-12, by WE\. into the kettle C\d+/);
    const stays = await page(`/jars/${jars[0]}`);
    expect(stays).not.toMatch(/DESTROYED|poured back \d/);
    expect(stays).toContain('On the shelf, by the records.');
  });

  test('the trace of its pack lists the action and says that each jar is gone', async () => {
    const whole = await page(`/lots/${pack}/trace`);
    expect(whole).toMatch(/6 jars of \S+ : 7-12, by WE/);
    expect(whole.match(/no\. \d+ of \S+: destroyed or poured back/g)).toHaveLength(6);
    const traced = (await here.open(`/api/jars/${jars[11]}`)).json<{ actions: unknown[] }>();
    expect(traced.actions).toMatchObject([{ way: 'poured-back', jars: '7-12', count: 6, by: 'WE' }]);
  });

  test('the list of every jar and that of a recall say so too, and not that it is on hand', async () => {
    const lines = (await here.open(`/lots/${pack}/jars.csv`)).body.replaceAll('"', '').split('\r\n');
    expect(lines[7]).toMatch(/,7,,poured back by C\d+, WE,,2026-03-20T[^,]*,poured back$/);
    expect(lines[6]).toMatch(/,6,,,,,$/);
    const recall = await readRecall(
      sugarhouseReader(here.at.book.read, 'home'),
      pack,
      await loadSeasonContext(here.at.book.read, writeContext()),
      {},
    );
    const groups = groupsOf(recall!.jars!, recall!.dispatches, recall!.plans).map(({ where, codes }) => [
      where,
      codes.length,
    ]);
    expect(groups).toEqual([
      ['on hand, or sent without its code', 6],
      [expect.stringMatching(/^poured back by C\d+, WE, 2026-03-20$/), 6],
    ]);
  });

  test('its public page says that it is gone, and it can’t be sold by its code', async () => {
    expect(await page(`/J/${jars[8]}`)).toContain('RECORDED AS DESTROYED');
    const url = '/dispatches/new';
    const sale = { lot: pack, to: 'the stall', kind: 'sale', 'sentAt~ago': 'now' };
    const refused = await here.send(url, { ...hiddenFieldsIn((await here.open(url)).body), ...sale, jars: jars[8]! });
    expect(refused.statusCode).toBe(409);
    expect(refused.body).toMatch(/\(jar 9\) of \S+ was poured back by C\d+, WE 2026-03-20, so it may not leave/);
    const sold = await here.send(url, { ...hiddenFieldsIn((await here.open(url)).body), ...sale, jars: jars[1]! });
    expect(sold.statusCode).toBe(303);
  });

  test('the page of a pack whose every jar was poured back says so, and one tap closes the lot', async () => {
    const all = await here.aPack(here.boil, {
      fromLots: [`${here.boil}:0.2 gal`],
      jars: '3',
      fillTemps: ['176 F jar 3'],
    });
    const act = `/lots/${all}/act`;
    const acted = { found: 'at 176 F', jars: 'all', cause: 'cold-jar', way: 'poured-back', done: 'into the kettle' };
    await here.send(act, { ...hiddenFieldsIn((await here.open(act)).body), ...acted });
    const body = (await here.open(`/lots/${all}`)).body;
    expect(body).toContain('All of its jars were poured back or destroyed.');
    expect(body).not.toContain(act);
    const form = /<form method="post" action="[^"]+\/release">.*?<\/form>/s.exec(body)?.[0] ?? '';
    const [, action = ''] = /action="([^"]+)"/.exec(form) ?? [];
    const [, why = ''] = /name="why" value="([^"]+)"/.exec(form) ?? [];
    const closed = await here.send(action, { ...hiddenFieldsIn(form), why });
    expect([closed.statusCode, await here.state(all)]).toEqual([303, 'released']);
  });
});
