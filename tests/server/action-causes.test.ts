import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { findLot, recordsOf } from '#libs/store/queries/lots.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { actionCauses } from '#libs/actions/kinds/corrective-action.js';
import { writeEvening } from '../support/evening-scenario.js';
import { owner, setUp } from '../support/newcomer.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';

/** A corrective action without its cause or its jars, and the way to what is missing; causes that fit the rule. */
let server: TestServer;
let cookie = '';
let once = 0;

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  await writeEvening(server);
  cookie = await signedIn(server, 'WE', owner.password);
});
afterAll(() => server.close());

const reader = () => sugarhouseReader(server.book.read, 'home');
const send = (url: string, fields: Record<string, string>) =>
  posted(server, url, { _once: `cause-${once++}`, ...fields }, { cookie });
const html = async (url: string): Promise<string> => (await server.web.inject({ url, headers: { cookie } })).body;
const chips = (page: string): string[] =>
  [...page.matchAll(/name="cause" value="([^"]*)"/g)].flatMap(([, value]) => value ?? []).filter(Boolean);

async function packOf(more: Record<string, string>): Promise<string> {
  const boil = (await recordsOf(reader(), 'boil'))[0]?.id ?? '';
  const answer = await send('/packs/finished', {
    'fromLots~more': `${boil}:0.3 gal`,
    packedAt: '2026-03-20T10:00',
    densityReading: '61 Bx',
    densityAt: '185 F',
    densityBy: 'hydrometer',
    container: 'glass jar 8 fl oz',
    jars: '4',
    fillTemps: '186 F jar 4',
    sealsFailed: '0',
    sealsAt: '2026-03-20T11:30',
    by: 'WE',
    ...more,
  });
  expect(answer.statusCode).toBe(303);
  return /\/lots\/([^#?]+)/.exec(String(answer.headers['location']))?.[1] ?? '';
}

test('an action without its cause, then without its jars, is said to end no hold, with a button to the box that mends it', async () => {
  const pack = await packOf({ fillTemps: '178 F jar 4' });
  const act = { found: 'jar 4 at 178 F', way: 'destroyed', 'jars~pick': '' };
  expect((await send(`/lots/${pack}/act`, act)).statusCode).toBe(303);
  const id = (await recordsOf(reader(), 'action')).at(-1)?.id ?? '';
  const first = await html(`/lots/${pack}`);
  expect(first).toContain(`Corrective action ${id} does not clear the hold: its cause is not recorded.`);
  const toCause = `/records/action/${id}/correct?field=cause`;
  expect(first).toContain(`<a class="main-action next-action" href="${toCause}">Add the cause</a>`);
  const box = await html(toCause);
  expect(chips(box)).toEqual(expect.arrayContaining(['cold-jar', 'slow-filling']));
  const fix = (fields: Record<string, string>) =>
    send(`/records/action/${id}/correct`, { 'correction~why': 'was left out', ...fields });
  expect((await fix({ cause: 'cold-jar', 'correction~field': 'cause' })).statusCode).toBe(303);
  const second = await html(`/lots/${pack}`);
  expect(second).toContain(`Corrective action ${id} does not clear the hold: which jars it is about is not recorded.`);
  expect(second).toContain(`href="/records/action/${id}/correct?field=jars">Add the jars</a>`);
  expect((await fix({ jars: 'all', 'correction~field': 'jars' })).statusCode).toBe(303);
  expect(await html(`/lots/${pack}`)).not.toContain('does not clear the hold');
  const findings = (await findLot(reader(), pack))?.verdict?.findings ?? [];
  expect(findings.filter(({ stop }) => stop)).toEqual([]);
});

test.each([
  ['density-too-thin', { densityReading: '50 Bx' }, 'drawn-off-too-early'],
  ['seals-failed', { sealsFailed: '4' }, 'rim-not-wiped'],
  ['off-flavour', { offFlavour: 'buddy' }, 'buddy-sap'],
  ['mould', { mould: 'yes' }, 'container-not-clean'],
  ['broken-glass', { brokenGlass: '2' }, 'jar-knocked'],
] as const)('what %s holds offers causes that fit it, and none of heat alone', async (rule, more, cause) => {
  const pack = await packOf(more);
  const found = (await findLot(reader(), pack))?.verdict?.findings.filter(({ stop }) => stop).map((each) => each.rule);
  expect(found).toContain(rule);
  const offered = chips(await html(`/lots/${pack}/act`));
  expect(offered).toContain(cause);
  expect(offered).not.toEqual([...actionCauses]);
});

test('a lot that somebody held by hand offers the usual causes', async () => {
  const pack = await packOf({});
  await send(`/lots/${pack}/hold`, { why: 'a lid flexes' });
  expect(chips(await html(`/lots/${pack}/act`))).toEqual([...actionCauses]);
});
