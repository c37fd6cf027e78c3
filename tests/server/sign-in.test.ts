import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addKey, addPerson, changePassword } from '#libs/actions/accounts/accounts.js';
import { owner, setUp } from '../support/newcomer.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';
import { engines } from '../support/engines.js';
import { done } from '../support/sugarhouse.js';

describe.each(engines())('on $name', (engine) => {
  let at: TestServer;
  beforeAll(async () => {
    await engine.start();
    at = await startServer({}, { engine });
    await setUp(at);
  });
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  test('signing in opens the book, signing out closes it on the server', async () => {
    const wrong = await posted(at, '/sign-in', { initials: 'WE', password: 'not this one' });
    expect(wrong.statusCode).toBe(422);
    const cookie = await signedIn(at, 'we', owner.password);
    const inside = await at.web.inject({ url: '/sign-in', headers: { cookie } });
    expect(inside.headers.location).toBe('/');
    expect((await posted(at, '/sign-out', {}, { cookie })).statusCode).toBe(303);
    expect((await at.web.inject({ url: '/nothing', headers: { cookie } })).headers.location).toContain('/sign-in');
  });

  test('initials stored in small letters are found as a phone types them; of two that differ by case, each is its own', async () => {
    const person = (initials: string, password: string) =>
      addPerson(at.book, 'home', { initials, role: 'helper', password });
    done(await person('wp', 'buckets along the road'));
    expect(await signedIn(at, 'WP', 'buckets along the road')).not.toBe('');
    expect(await signedIn(at, 'Wp', 'buckets along the road')).not.toBe('');
    done(await person('WP', 'tubing up the hillside'));
    expect(await signedIn(at, 'WP', 'tubing up the hillside')).not.toBe('');
    expect(await signedIn(at, 'wp', 'buckets along the road')).not.toBe('');
    const other = await posted(at, '/sign-in', { initials: 'WP', password: 'buckets along the road' });
    expect(other.statusCode).toBe(422);
  });

  test('signing in leads back to a page of ours and never elsewhere', async () => {
    for (const [back, to] of [
      ['/lots/26077A-1', '/lots/26077A-1'],
      ['//elsewhere.example', '/'],
      ['https://elsewhere.example', '/'],
      ['/\\elsewhere.example', '/'],
      ['/a\r\nSet-Cookie: x=y', '/'],
    ] as const) {
      const done = await posted(at, '/sign-in', { initials: 'WE', password: owner.password, back });
      expect(done.headers.location).toBe(to);
    }
  });

  test('the wait after wrong passwords doubles, expires, and doesn’t apply to a known device', async () => {
    const known = await signedIn(at, 'WE', owner.password);
    const tries = async (password: string, headers = {}) =>
      posted(at, '/sign-in', { initials: 'WE', password }, { ...headers });
    const waits: number[] = [];
    for (let n = 0; n < 3; n++) expect((await tries('wrong one')).statusCode).toBe(422);
    for (let n = 0; n < 9; n++) {
      const slowed = await tries(owner.password);
      expect(slowed.statusCode).toBe(429);
      const wait = Number(slowed.headers['retry-after']);
      waits.push(wait);
      at.clock.now = new Date(at.clock.now.getTime() + wait * 1000);
      expect((await tries('wrong one')).statusCode).toBe(422);
    }
    expect(waits).toEqual([1, 2, 4, 8, 16, 32, 64, 64, 64]);
    expect((await tries(owner.password, { cookie: known })).statusCode).toBe(303);
    at.clock.now = new Date(at.clock.now.getTime() + 64_000);
    expect((await tries(owner.password)).statusCode).toBe(303);
    expect((await tries('wrong one')).statusCode).toBe(422);
  });

  test('wrong passwords on one known device don’t slow another; a new password makes both unknown', async () => {
    const [password, next] = ['tin cup on a nail', 'sap runs in the night'];
    done(await addPerson(at.book, 'home', { initials: 'JP', role: 'helper', password }));
    const [phone, tablet] = [await signedIn(at, 'JP', password), await signedIn(at, 'JP', password)];
    const tries = async (typed: string, cookie: string) =>
      (await posted(at, '/sign-in', { initials: 'JP', password: typed }, { cookie })).statusCode;
    const wrongOnPhone: number[] = [];
    for (let n = 0; n < 4; n++) wrongOnPhone.push(await tries('wrong one', phone));
    expect(wrongOnPhone).toEqual([422, 422, 422, 429]);
    expect(await tries(password, tablet)).toBe(303);
    done(await changePassword(at.book, 'home', { initials: 'JP', password: next }));
    for (let n = 0; n < 3; n++) expect(await tries('wrong one', '')).toBe(422);
    expect(await tries(next, tablet)).toBe(429);
    at.clock.now = new Date(at.clock.now.getTime() + 1000);
    expect(await tries(next, tablet)).toBe(303);
  });

  test('a stranger’s wrong passwords don’t keep the owner out of a new device, and don’t reveal which initials exist', async () => {
    const from = (remoteAddress: string, initials: string, password: string) =>
      at.web.inject({
        method: 'POST',
        url: '/sign-in',
        remoteAddress,
        payload: new URLSearchParams({ initials, password }).toString(),
        headers: { 'content-type': 'application/x-www-form-urlencoded', origin: 'http://localhost' },
      });
    const statuses = async (initials: string, address: string) => {
      const seen: [number, unknown][] = [];
      for (let n = 0; n < 8; n++) {
        const answer = await from(address, initials, `guess ${n}`);
        seen.push([answer.statusCode, answer.headers['retry-after']]);
      }
      return seen;
    };
    const ofOwner = await statuses('WE', '203.0.113.20');
    expect(ofOwner.map(([status]) => status)).toEqual([422, 422, 422, 429, 429, 429, 429, 429]);
    expect(await statuses('QQ', '203.0.113.21')).toEqual(ofOwner);
    // In lower case, and with spaces around them, they are the same initials.
    expect((await from('203.0.113.20', ' we ', 'guess')).statusCode).toBe(429);
    expect((await from('203.0.113.22', 'WE', owner.password)).statusCode).toBe(303);
    // Initials tried one after the other from one address are refused after a while too.
    const swept: number[] = [];
    for (let n = 0; n < 32; n++) swept.push((await from('203.0.113.23', `A${n}`, 'guess')).statusCode);
    expect(swept.filter((status) => status === 422)).toHaveLength(30);
    expect(swept.at(-1)).toBe(429);
  });

  test('a write is accepted only from our own pages, or with a key', async () => {
    const cookie = await signedIn(at, 'WE', owner.password);
    const out = (headers: Record<string, string>) =>
      at.web.inject({ method: 'POST', url: '/sign-out', headers: { cookie, ...headers } });
    expect((await out({ origin: 'https://elsewhere.example' })).statusCode).toBe(403);
    expect((await out({ origin: 'null' })).statusCode).toBe(403);
    expect((await out({})).statusCode).toBe(403);
    expect((await out({ 'sec-fetch-site': 'cross-site', origin: 'http://localhost' })).statusCode).toBe(403);
    expect((await out({ 'sec-fetch-site': 'same-origin', origin: 'http://localhost' })).statusCode).toBe(303);
  });

  test('a guest’s link is never logged in any encoding, nor are terminal control characters', async () => {
    const token = 'Abcdefghijklmnopqrstuvwxyz0123456789-_ABCDE';
    const encoded = [...token].map((letter) => `%${letter.charCodeAt(0).toString(16)}`).join('');
    const twice = encoded.replaceAll('%', '%25');
    const before = at.log.length;
    for (const path of [
      '/guest/',
      '/%67uest/',
      '/GUEST/',
      '/guest%2F',
      '//guest/',
      '/guest/x/',
      '/gues/',
      '/%2567uest/',
    ])
      for (const each of [token, encoded, twice]) await at.web.inject(`${path}${each}`);
    await at.web.inject('/lots/%1B%5B2J%0A%C2%9b');
    const paths = at.log.slice(before).map((line) => (JSON.parse(line) as { path?: string }).path ?? '');
    expect(paths.length).toBeGreaterThan(24);
    for (const path of paths) {
      expect(path).not.toMatch(/Abcdefgh|%41|[\u0000-\u001f\u007f-\u009f]/i);
    }
  });

  test('under an unknown host name nothing of the house is shown', async () => {
    const cookie = await signedIn(at, 'WE', owner.password);
    const answer = await at.web.inject({ url: '/', headers: { host: 'elsewhere.example', cookie } });
    expect(answer.statusCode).toBe(421);
    for (const own of ['Tamarack', 'Boilbook', 'WE', owner.person]) expect(answer.body).not.toContain(own);
  });

  test('nothing secret is in the log, and each line has its request id', async () => {
    const key = await addKey(at.book, 'home', { name: 'scale', role: 'helper' }, at.clock.now);
    if ('problem' in key) throw new Error('no key');
    await at.web.inject({
      url: `/api/lots/26077A/trace?key=${key.key}`,
      headers: { authorization: `Bearer ${key.key}` },
    });
    const log = at.log.join('\n');
    expect(log).not.toContain(key.key);
    expect(log).not.toContain(owner.password);
    expect(at.log.map((line) => (JSON.parse(line) as { request?: string }).request).every(Boolean)).toBe(true);
  });
});
