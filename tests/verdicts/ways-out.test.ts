import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addHouse } from '#libs/actions/accounts/add-house.js';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { findLot } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { holdRules } from '#libs/syrup/rules/hold-rules.js';
import { sqlite } from '../support/engines.js';
import { startServer, type TestServer } from '../support/server.js';
import { writeContext, done } from '../support/sugarhouse.js';
import { apiChannel } from './entry-channels.js';
import { pack, type Step, stepsOf } from './verdict-case.js';
import { remedies } from './ways-out.js';

/** Every rule is reached, its sentence names a way out, and following it ends with a lot that may go or is gone. */
let at: TestServer;
const engine = sqlite();
beforeAll(async () => {
  await engine.start();
  at = await startServer({}, { engine, requestsPerMinute: 1_000_000 });
  at.clock.now = new Date('2026-05-01T22:00:00Z');
});
afterAll(async () => {
  await at.close();
  await engine.stop();
});

test('every rule that holds has a way out', () => {
  expect(Object.keys(remedies).sort()).toEqual(holdRules.map(({ name }) => name).sort());
});

const walks = Object.entries(remedies).flatMap(([rule, ways]) => ways.map((way, n) => ({ rule, n: n + 1, way })));
let houses = 0;
test.each(walks)('$rule, way out $n', async ({ rule, way }) => {
  const house = `way-${++houses}`;
  const place = {
    town: 'Harrow Notch, Vermont',
    place: 'Vermont',
    hydrometerMadeFor: '60-F',
    zone: 'America/New_York',
    prefix: `W${houses}`,
  };
  done(
    await addHouse(at.book, writeContext(), house, { name: `Tamarack Hollow ${houses}`, ...place, ...way.held.house }),
  );
  const key = done(await addKey(at.book, house, { name: 'sheet', role: 'owner' }, at.clock.now)).key;
  const channel = apiChannel({ at, cookie: '', key });
  const code = way.held.lot ?? pack;
  const lot = () => findLot(sugarhouseReader(at.book.read, house), code);
  const take = async (steps: readonly Step[]): Promise<void> => {
    for (const step of steps) {
      const answer = await channel.take(step);
      if (!answer.taken) throw new Error(`${JSON.stringify(step)}: ${answer.text}`);
    }
  };
  await take(stepsOf({ is: '', state: 'held', ...way.held }));
  const hold = (await lot())?.verdict?.findings.find((finding) => finding.stop && finding.rule === rule);
  expect([(await lot())?.state, hold?.rule, (hold?.wayOut ?? '').length > 20]).toEqual(['held', rule, true]);
  await take(way.out);
  expect((await lot())?.state).toBe(way.ends);
});
