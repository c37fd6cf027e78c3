import { expect, test } from '@jest/globals';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';

const here = recallSuite();

/**
 * Each page's old address and its present one; LOT, BACK and LEFT stand for a pack, returned jars and jars that had
 * left.
 */
const moved: readonly (readonly [old: string, now: string])[] = [
  ['/side', '/supporting-records'],
  ['/side/checks', '/supporting-records/checks'],
  ['/side/checks/new?instrument=T1', '/supporting-records/checks/new?instrument=T1'],
  ['/reckon', '/calculators'],
  ['/reckon/finish?waterBoilsAt=210.4+F&density=66.9+Bx', '/calculators/finish?waterBoilsAt=210.4+F&density=66.9+Bx'],
  ['/you', '/account'],
  ['/you/password', '/account/password'],
  ['/came-back', '/returns'],
  ['/came-back?q=LOT', '/returns?q=LOT'],
  ['/came-back/LOT', '/returns/LOT'],
  ['/record', '/history'],
  ['/record?from=2', '/history?from=2'],
  ['/entries/2', '/records/2'],
  ['/sheets', '/paper-sheets'],
  ['/sheets/boil', '/paper-sheets/boil'],
  ['/sheets/pack', '/paper-sheets/pack'],
  ['/sent', '/dispatches'],
  ['/sent?as=csv', '/dispatches?as=csv'],
  ['/sent/new?lot=LOT', '/dispatches/new?lot=LOT'],
  ['/sent/count?lot=LOT', '/dispatches/count?lot=LOT'],
  ['/sent/BACK/looked', '/dispatches/BACK/inspection'],
  ['/sent/LEFT/acknowledge', '/dispatches/LEFT/acknowledge'],
  ['/boils/whole', '/boils/finished'],
  ['/packs/whole', '/packs/finished'],
  ['/recall/practise', '/recall/mock'],
  ['/lots/G050/use-up', '/lots/G050/disposal'],
  ['/lots/LOT/mark/hold', '/lots/LOT/hold'],
  ['/lots/LOT/mark/release', '/lots/LOT/release'],
  ['/lots/LOT/mark/recall', '/lots/LOT/recall'],
  ['/lots/LOT/went.csv', '/lots/LOT/dispatches.csv'],
];

test('every old address redirects permanently to the new one, with its query, and the new one exists', async () => {
  const market = { to: 'Millrace Green market', jars: '1', sentAt: '2026-03-20T09:00', by: 'WE' };
  const back = await here.write('dispatches', { ...market, lot: here.day.pack, kind: 'returned' });
  const left = await here.write('dispatches', { ...market, lot: here.day.cold, alreadyLeft: 'yes' });
  const filled = (url: string): string => url.replace('LOT', here.day.pack).replace('BACK', back).replace('LEFT', left);
  for (const [old, now] of moved) {
    const { statusCode, headers } = await here.open(filled(old));
    expect([old, statusCode, headers.location]).toEqual([old, 308, filled(now)]);
    const reached = await here.open(filled(now));
    expect([now, reached.statusCode < 400]).toEqual([now, true]);
  }
  expect((await here.open('/side/')).headers.location).toBe('/supporting-records');
});

test('without signing in a moved page only redirects', async () => {
  const moves = await here.at.web.inject('/you');
  expect([moves.statusCode, moves.headers.location, moves.body]).toEqual([308, '/account', '']);
  expect((await here.at.web.inject('/account')).headers.location).toBe('/sign-in?back=%2Faccount');
  const posted = await here.at.web.inject({ method: 'POST', url: '/sent/new', payload: {} });
  expect([posted.statusCode, posted.headers.location]).toEqual([303, '/sign-in']);
});

test('an address that only begins alike, and every one of the API, stays where it is', async () => {
  for (const url of ['/sidelong', '/youth', '/recording', '/records/pack/none', '/api/reckon', '/api/record'])
    expect([url, (await here.open(url)).statusCode]).not.toEqual([url, 308]);
  expect((await here.open('/api/reckon/weight?volume=1+gal&density=66.9+Bx')).statusCode).toBe(200);
});

test('an entry queued on a phone for an old address is saved once, as at the new one', async () => {
  const pack = await here.aPack(here.boil);
  const reading = { instrument: 'T9', how: 'ice', 'at~ago': 'now', reading: '32', 'reading~unit': 'F' };
  const sale = { lot: pack, jars: '1', to: 'Millrace Green market', 'sentAt~ago': 'now' };
  const stillAnswered: readonly (readonly [old: string, now: string, fields: Record<string, string>])[] = [
    ['/side/checks/new', '/supporting-records/checks/new', reading],
    ['/sent/new', '/dispatches/new', sale],
    ['/sent/count', '/dispatches/count', { lot: pack, jars: '5', 'countedAt~ago': 'now' }],
    ['/lots/G050/use-up', '/lots/G050/disposal', { how: 'spilt', volume: '1', 'volume~unit': 'gal', 'at~ago': 'now' }],
    [`/lots/${pack}/mark/hold`, `/lots/${pack}/hold`, { why: 'lids flex' }],
    [`/lots/${pack}/mark/release`, `/lots/${pack}/release`, { why: 'lids are down' }],
  ];
  for (const [old, now, fields] of stillAnswered) {
    const once = hiddenFieldsIn((await here.open(now)).body);
    const before = await here.entries();
    const first = await here.send(old, { ...once, ...fields });
    expect([old, first.statusCode, await here.entries()]).toEqual([old, 303, before + 1]);
    for (const url of [old, now]) {
      const again = await here.send(url, { ...once, ...fields });
      expect([url, again.headers.location, await here.entries()]).toEqual([url, first.headers.location, before + 1]);
    }
  }
  const blank = await here.send('/boils/whole', {});
  expect([blank.statusCode, blank.body.includes('action="/boils/finished"')]).toEqual([422, true]);
  const verified = await here.send('/record/verify', {});
  expect([verified.statusCode, verified.body.includes('action="/history/verify"')]).toEqual([200, true]);
});
