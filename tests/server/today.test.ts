import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { recallLot } from '#libs/actions/lots/recall-lots.js';
import { record } from '#libs/actions/record/record.js';
import { dispatches } from '#libs/actions/kinds/dispatch.js';
import { packs, packsUnderway } from '#libs/actions/kinds/pack.js';
import { canonicalJson } from '#libs/store/log/canonical.js';
import { findLot, recordsOf } from '#libs/store/queries/lots.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { startServer, signedIn, type TestServer } from '../support/server.js';
import { done } from '../support/sugarhouse.js';
import { writeDay } from '../support/season-server.js';

let at: TestServer;
let day: Awaited<ReturnType<typeof writeDay>>;
let cookie: string;

beforeAll(async () => {
  at = await startServer();
  day = await writeDay(at);
  const password = 'steam over the roof';
  const added = await addPerson(at.book, 'home', { initials: 'WE', name: 'Wren Ellery', role: 'maker', password });
  if ('problem' in added) throw new Error(JSON.stringify(added.problem));
  cookie = await signedIn(at, 'WE', password);
}, 60_000);
afterAll(() => at.close());

const writeContext = () => ({
  sugarhouse: 'home',
  by: 'WE',
  author: 'WE',
  now: at.clock.now,
  zone: 'America/New_York',
});
const today = async (): Promise<string> => (await at.web.inject({ url: '/', headers: { cookie } })).body;
const move = async (lot: string, jars: number, kind: string) =>
  done(
    await record(at.book, writeContext(), dispatches, {
      lot,
      jars: String(jars),
      sentAt: '2026-03-20T11:00',
      to: 'the stall',
      kind,
    }),
  );

test('a recalled pack is on Today with the jars that are out and those on the shelf, until there are none', async () => {
  const { pack } = day;
  const out = async () => /Recalled:[^<]*/.exec(await today())?.[0];
  done(await recallLot(at.book, writeContext(), pack, 'mould at a buyer'));
  expect(await out()).toBe('Recalled: 12 jars still out, 18 jars on the shelf.');
  expect(await today()).toContain(`href="/recall/calls?lot=${pack}">Recall calls</a>`);
  await move(pack, 12, 'returned');
  expect(await out()).toBe('Recalled: 18 jars on the shelf, 12 jars returned.');
  await move(pack, 30, 'destroyed');
  expect(await out()).toBeUndefined();
});

test('a held pack leaves Today when its last jar is destroyed', async () => {
  const { cold } = day;
  expect(await today()).toMatch(new RegExp(`href="/lots/${cold}"[^]*HELD`));
  await move(cold, 15, 'destroyed');
  expect(await today()).not.toContain(`href="/lots/${cold}"`);
});

test('a pack that is being filled is shown as held, beside the link to its next jar', async () => {
  const boil = (await recordsOf({ sql: at.book.read, sugarhouse: 'home' }, 'boil'))[0]?.id ?? '';
  const begun = { fromLots: `${boil}:0.1 gal`, packedAt: '2026-03-20T11:30', container: 'glass jar 8 fl oz', by: 'WE' };
  const { id } = done(await record(at.book, writeContext(), packsUnderway, { ...begun, fillTemps: '178 F' }));
  const row = new RegExp(`<a class="row two" href="/lots/${id}"[^]*?</li>`).exec(await today())?.[0] ?? '';
  expect(row).toContain('HELD');
  expect(row).toContain('Next jar');
});

test('a pack that an older program left open and that today’s rules hold is on Today with what it needs', async () => {
  const boil = (await recordsOf({ sql: at.book.read, sugarhouse: 'home' }, 'boil'))[0]?.id ?? '';
  const { id: pack } = done(
    await record(at.book, writeContext(), packs, {
      fromLots: `${boil}:16 fl oz`,
      packedAt: '2026-03-20T10:00',
      densityReading: '67.2 Bx',
      densityAt: '68 F',
      densityBy: 'hydrometer',
      container: 'glass jar 8 fl oz',
      jars: '2',
      fillTemps: '171 F',
      sealsFailed: '0',
      by: 'OE',
    }),
  );
  expect(await today()).not.toContain('Held by the current rules');
  // As judged by a version without that rule.
  await at.book.writeHousehold(async (sql) => {
    const { verdict } = (await findLot({ sql, sugarhouse: 'home' }, pack))!;
    const old = canonicalJson({ ...verdict, rules: 'rules 1; us', findings: [], heldJars: undefined });
    await sql.run`UPDATE lot SET state = 'open', held_since = ${null}, verdict = ${old}, rules = 'rules 1; us'
      WHERE code = ${pack}`;
  });
  const page = (await today()).replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
  expect(page).toMatch(
    new RegExp(`Held by the current rules .*${pack}.*it may not be sent out. Found: 171 °F.*Required: 180 °F`),
  );
  expect(page).not.toContain('ready to send');
});

test('after what may not be sold come the jars without labels, the stock by size and the checks that fall due', async () => {
  const instruments = kindByName.get('instrument');
  if (!instruments) throw new Error('no such kind');
  const boil = (await recordsOf({ sql: at.book.read, sugarhouse: 'home' }, 'boil'))[0]?.id ?? '';
  const pack = done(
    await record(at.book, writeContext(), packs, {
      fromLots: [`${boil}:0.5 gal`],
      packedAt: '2026-03-19T13:00',
      hotPackTemp: '190 F',
      fillTemps: ['188 F'],
      densityReading: '60.4 Bx',
      densityAt: '185 F',
      densityBy: 'hydrometer',
      container: 'glass jar 8 fl oz',
      jars: '6',
      sealsFailed: '0',
      by: 'WE',
    }),
  ).id;
  const unsealed = done(
    await record(at.book, writeContext(), packs, {
      fromLots: [`${boil}:0.1 gal`],
      packedAt: '2026-03-20T10:00',
      fillTemps: ['188 F'],
      densityReading: '60.4 Bx',
      densityAt: '185 F',
      densityBy: 'hydrometer',
      container: 'glass jar 12 fl oz',
      jars: '1',
      by: 'WE',
    }),
  ).id;
  done(await record(at.book, writeContext(), instruments, { id: 'H1', what: 'hydrometer', by: 'WE' }));
  const page = (await today()).replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
  expect(page).toContain(`${pack} 6 jars on hand; 6 labels not printed.`);
  expect(page).toMatch(/Stock by size glass jar 8 fl oz \d+ jars ready to send, of \d+ lots?\./);
  expect(page).toContain('glass jar 12 fl oz 1 jar whose seals are not checked yet, of 1 lot.');
  const { body } = await at.web.inject({ url: `/lots/${unsealed}`, headers: { cookie } });
  expect(body).toContain('seals not checked');
  expect(body).not.toContain('may go out');
  expect(page).toContain('H1 This hydrometer has not been checked this season.');
  const [check = ''] = /\/supporting-records\/checks\/new\?how=reference&amp;instrument=H1/.exec(await today()) ?? [];
  const form = (await at.web.inject({ url: check.replace('&amp;', '&'), headers: { cookie } })).body;
  expect(form).toContain('Compare it with an instrument that is known to be right');
  expect(form).not.toContain('Ice water first');
  expect(page).toContain('No mock recall is on record.');
  expect(page).not.toContain('Water test');
  expect(page.indexOf('Jars without labels')).toBeLessThan(page.indexOf('Stock by size'));
  expect(page.indexOf('Stock by size')).toBeLessThan(page.indexOf('Checks due'));
});

test('a check of the thermometer that was put off is reminded of once the pack is done, until one was made', async () => {
  const boil = (await recordsOf({ sql: at.book.read, sugarhouse: 'home' }, 'boil'))[0]?.id ?? '';
  const pack = done(
    await record(at.book, writeContext(), packsUnderway, {
      fromLots: [`${boil}:0.1 gal`],
      packedAt: '2026-03-20T11:00',
      fillTemps: ['188 F'],
      container: 'glass jar 8 fl oz',
      by: 'WE',
    }),
  ).id;
  const todayText = async () => (await today()).replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
  const reminder = `${pack} Filled 20 Mar, and the check of the thermometer was put off. Check it before jars go out.`;
  done(await record(at.book, writeContext(), packsUnderway, { thermometerCheck: 'later' }, { add: true, of: pack }));
  expect(await todayText()).not.toContain(reminder);
  done(await record(at.book, writeContext(), packsUnderway, { jars: '1' }, { add: true, of: pack }));
  expect(await todayText()).toContain(reminder);
  const checks = kindByName.get('check')!;
  done(
    await record(at.book, writeContext(), checks, {
      instrument: 'T9',
      how: 'ice',
      reads: '32 F',
      at: '2026-03-20T11:30',
    }),
  );
  expect(await todayText()).not.toContain('was put off');
});

test('a thermometer that failed its check is named until a good check follows, or it is out of use', async () => {
  const check = (reads: string, minute: number, more = {}) =>
    record(at.book, writeContext(), kindByName.get('check')!, {
      instrument: 'T7',
      at: `2026-03-20T07:${minute}`,
      how: 'ice',
      reads,
      by: 'WE',
      ...more,
    });
  const text = async () => (await today()).replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
  done(await check('32.2 F', 10));
  expect(await text()).not.toContain('T7 read');
  const failed = done(await check('35.5 F', 11));
  expect(await text()).toContain('T7 read 3.5 °F high in ice, 20 Mar: don’t use it. Adjust it and check it again.');
  expect(await today()).toContain('href="/supporting-records/checks/new?how=ice&amp;instrument=T7"');
  expect(await today()).toContain(`href="/records/check/${failed.id}"`);
  // A good check at another point doesn't put right what ice showed.
  done(await check('212 F', 12, { how: 'boiling-water', should: '212 F' }));
  expect(await text()).toContain('T7 read 3.5 °F high in ice');
  done(await check('35.5 F', 13, { done: 'nut under the dial turned until it read 32' }));
  expect(await text()).toContain(
    'T7 read 3.5 °F high in ice, 20 Mar, and was adjusted. Check it again before you use it.',
  );
  done(await check('32 F', 14));
  expect(await text()).not.toContain('T7 read');
  done(await check('36 F', 15, { done: 'thrown out' }));
  expect(await text()).not.toContain('T7 read');
});

test('sap is named by where it came from, on Today and where a boil chooses it', async () => {
  const gathered = { id: 'G077', source: 'South bags', volume: '52 gal', gatheredAt: '2026-03-20T08:00', by: 'WE' };
  done(await record(at.book, writeContext(), kindByName.get('gathering')!, gathered));
  expect(await today()).toContain('52 gal from South bags waiting');
  // Its page leads to its correction, as those of other lots do, without opening the history.
  expect((await at.web.inject({ url: '/lots/G077', headers: { cookie } })).body).toContain(
    '<a class="quiet" href="/records/gathering/G077/correct">Correct</a>',
  );
  const boil = (await at.web.inject({ url: '/boils/begin', headers: { cookie } })).body;
  expect(boil).toMatch(/G077[^]{0,300}South bags, 52 gal left/);
});
