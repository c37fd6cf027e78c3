import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { randomUUID } from 'node:crypto';
import { owner, setUp } from '../support/newcomer.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';

let server: TestServer;
let cookie = '';
let boil = '';

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  cookie = await signedIn(server, 'WE', owner.password);
  const begun = await send('/boils/begin', { 'beganAt~ago': '120' });
  boil = /\/lots\/([^#]+)/.exec(String(begun.headers['location']))?.[1] ?? '';
});
afterAll(() => server.close());

const send = (url: string, fields: Record<string, string>) =>
  posted(server, url, { _once: randomUUID(), ...fields }, { cookie });
const textOf = (body: string): string => body.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
const seen = async (url: string, more = ''): Promise<string> =>
  textOf((await server.web.inject({ url, headers: { cookie: cookie + more } })).body);
const log = (what: string, fields: Record<string, string> = {}) => send(`/boils/${boil}/log/${what}`, fields);

test('a second reading from a page that was not renewed yet is refused with what was saved; sent again it is saved', async () => {
  const reading = { 'temperature~unit': 'F', pan: 'finish pan', 'at~ago': 'now', _once: randomUUID() };
  expect((await log('reading', { ...reading, temperature: '214' })).statusCode).toBe(303);
  const second = await log('reading', { ...reading, temperature: '215.5' });
  expect(second.statusCode).toBe(409);
  expect(textOf(second.body)).toMatch(
    /this page saved other values before .*WE saved entry \d+ from this page at \d\d:\d\d, with other values than these\. To record these as well, save again/,
  );
  const renewed = /name="_once" value="([^"]+)"/.exec(second.body)?.[1] ?? '';
  expect(second.body).toContain('value="215.5"');
  expect((await log('reading', { ...reading, temperature: '215.5', _once: renewed })).statusCode).toBe(303);
  expect(await seen(`/lots/${boil}`)).toMatch(/214 °F.*215\.5 °F|215\.5 °F.*214 °F/);
});

test('a form saved while it is blank says that nothing was saved', async () => {
  const answer = await log('filter');
  expect(answer.statusCode).toBe(303);
  const cookies = [answer.headers['set-cookie']].flat().map((each) => String(each).split(';')[0]);
  const page = await seen(`/lots/${boil}`, `; ${cookies.join('; ')}`);
  expect(page).toContain('Nothing new was entered, so nothing was saved.');
  expect(page).not.toContain('Saved.');
});

test('the amount of syrup is saved, not the boil ended, where it has ended already', async () => {
  expect(await seen(`/boils/${boil}/log/finish`)).toMatch(/Take a photo.* End boil /);
  expect((await log('off', { 'finishedAt~ago': 'now' })).statusCode).toBe(303);
  const page = await seen(`/boils/${boil}/log/finish`);
  expect(page).toMatch(/Take a photo.* Save /);
  expect(page).not.toContain('End boil');
});
