import { beforeAll, describe, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { recordsAbout } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { recallSuite } from '../support/recall-suite.js';

/** Every address from which a label can be printed, asked for a lot that may not go out. */
const here = recallSuite();
let key = '';
beforeAll(async () => {
  const added = await addKey(here.at.book, 'home', { name: 'sheet', role: 'owner' }, here.at.clock.now);
  if ('problem' in added) throw new Error(JSON.stringify(added.problem));
  key = added.key;
});

const authorization = () => ({ authorization: `Bearer ${key}` });
const entryPoints: readonly (readonly [string, (lot: string) => Promise<{ statusCode: number; body: string }>])[] = [
  ['the form', (lot) => here.send(`/lots/${lot}/labels`, {})],
  ['the PDF’s address, as a page was left open', (lot) => here.open(`/lots/${lot}/labels.pdf?from=1&to=2`)],
  ['the browser’s own print', (lot) => here.open(`/lots/${lot}/labels/print`)],
  ['the API’s PDF', (lot) => here.at.web.inject({ url: `/api/lots/${lot}/labels.pdf`, headers: authorization() })],
  [
    'a run by the API',
    (lot) =>
      here.at.web.inject({ method: 'POST', url: `/api/lots/${lot}/labels`, payload: {}, headers: authorization() }),
  ],
];
const runs = async (lot: string) =>
  (await recordsAbout(sugarhouseReader(here.at.book.read, 'home'), lot, 'labels')).length;

const stops: readonly (readonly [string, (lot: string) => Promise<unknown>])[] = [
  ['held by hand', (lot) => here.send(`/lots/${lot}/hold`, { why: 'a lid hissed' })],
  ['recalled', async (lot) => here.send(`/recall`, { lot, why: 'glass', hazard: 'glass' })],
  [
    'found to be read by a thermometer 8 °F high',
    () =>
      here.send('/supporting-records/checks/new', {
        ...{ instrument: 'T1', how: 'ice', reads: '40 F', should: '32 F', at: '2026-03-20T08:00' },
      }),
  ],
];

describe.each(stops)('labels of a lot that is %s after some were printed', (_, stop) => {
  let lot = '';
  beforeAll(async () => {
    lot = await here.aPack(here.boil, { packedAt: '2026-03-19T15:00', fillTemps: ['186 F#T1 jar 6'], jars: '6' });
    const printed = await here.send(`/lots/${lot}/labels`, { from: '1', to: '2' });
    expect(printed.statusCode).toBe(303);
    await stop(lot);
  });

  test.each(entryPoints)('are refused by %s, and no run is recorded', async (_way, ask) => {
    const before = await runs(lot);
    const answer = await ask(lot);
    expect({ status: answer.statusCode, isPdf: answer.body.startsWith('%PDF') }).toEqual({ status: 409, isPdf: false });
    expect(await runs(lot)).toBe(before);
  });
});
