import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addKey, addPerson, endPerson } from '#libs/actions/household-deeds.js';
import { makeGuestLink } from '#libs/actions/sign-in.js';
import { endGuestLink } from '#libs/records/household-tokens.js';
import { readHead } from '#libs/records/log.js';
import { hashOfToken } from '#libs/actions/tokens.js';
import { aServer, posted, signedIn, type AServer } from './a-server.js';
import { engines } from '../engines.js';

describe.each(engines())('on $name', (engine) => {
  let at: AServer;
  beforeAll(async () => {
    await engine.start();
    at = await aServer({}, { engine });
  });
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  const house = { name: 'Tamarack Hollow Sugarhouse', town: 'Harrow Notch, Vermont', place: 'Vermont' };
  const owner = { initials: 'WE', person: 'Wren Ellery', password: 'steam over the long pan' };

  test('the book says that it is well, to anybody', async () => {
    const answer = await at.web.inject('/healthz');
    expect([answer.statusCode, answer.json()]).toEqual([200, { ok: true }]);
    expect(answer.headers['content-security-policy']).toContain("script-src 'self'");
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
  });

  test('an address that is none is closed all the same: 401 under /api, the sign-in page elsewhere', async () => {
    const api = await at.web.inject({ method: 'POST', url: '/api/nothing', payload: '{"broken' });
    expect([api.statusCode, api.headers['content-type']]).toEqual([401, 'application/problem+json; charset=utf-8']);
    expect((await at.web.inject('/api/%zz')).statusCode).toBe(401);
    expect((await at.web.inject({ method: 'PUT', url: '/api' })).statusCode).toBe(401);
    const page = await at.web.inject('/nothing');
    expect([page.statusCode, page.headers.location]).toEqual([303, '/sign-in?back=%2Fnothing']);
  });

  test('another host name is refused, this machine’s own are not', async () => {
    const to = async (host: string) => (await at.web.inject({ url: '/healthz', headers: { host } })).statusCode;
    expect(await to('elsewhere.example')).toBe(421);
    expect([await to('127.0.0.1:8066'), await to('[::1]:8066'), await to('LOCALHOST')]).toEqual([200, 200, 200]);
  });

  test('the typefaces and the style are open, and nothing beside them', async () => {
    const font = await at.web.inject('/assets/fonts/atkinson-hyperlegible-next-latin-400-normal.woff2');
    expect([font.statusCode, font.headers['content-type']]).toEqual([200, 'font/woff2']);
    expect((await at.web.inject('/assets/book.css')).statusCode).toBe(200);
    for (const path of ['/assets/../layout.eta', '/assets/%2e%2e/layout.eta', '/assets/fonts/../package.json'])
      expect((await at.web.inject(path)).statusCode).not.toBe(200);
  });

  test('a newcomer sets the book up with the printed word, and only with it', async () => {
    expect((await at.web.inject('/sign-in')).headers.location).toBe('/set-up');
    const form = await at.web.inject('/set-up');
    expect(form.statusCode).toBe(200);
    expect(at.words).toHaveLength(1);

    const wrong = await posted(at, '/set-up', { ...house, ...owner, word: 'AAAAA-AAAAA' });
    expect(wrong.statusCode).toBe(422);
    expect(wrong.body).toContain('Tamarack Hollow Sugarhouse');
    expect(wrong.body).not.toContain(owner.password);

    const short = await posted(at, '/set-up', {
      ...house,
      ...owner,
      password: 'short',
      place: 'Atlantis',
      word: at.words[0] ?? '',
    });
    expect(short.body).toContain('Password: expected a password of 8 letters or more');
    expect(short.body).toContain('Place: expected a place such as Vermont');

    const done = await posted(at, '/set-up', { ...house, ...owner, word: (at.words[0] ?? '').toLowerCase() });
    expect([done.statusCode, done.headers.location]).toEqual([303, '/']);
    expect(String(done.headers['set-cookie'])).toContain('HttpOnly; SameSite=Lax');

    const again = await posted(at, '/set-up', { ...house, ...owner, initials: 'OE', word: at.words[0] ?? '' });
    expect(again.headers.location).toBe('/sign-in');
  });

  test('one button opens the practice book, which is another book with a door of its own', async () => {
    const fresh = await aServer();
    try {
      const opened = await posted(fresh, '/practice', {});
      expect([opened.statusCode, opened.headers.location]).toEqual([303, '/']);
      const cookie = opened.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
      const record = await fresh.web.inject({ url: '/api/record', headers: { cookie } });
      expect((record.json() as { entries: number }).entries).toBeGreaterThan(50);
      expect((await readHead(fresh.book.read)).entries).toBe(0);
      expect((await fresh.web.inject({ url: '/', headers: { cookie } })).body).toContain('PRACTICE');
      const packs = (await fresh.web.inject({ url: '/api/packs?most=1', headers: { cookie } })).json() as {
        items: { lot: string }[];
      };
      const { jars } = (
        await fresh.web.inject({ url: `/api/lots/${packs.items[0]?.lot}/jars?most=1`, headers: { cookie } })
      ).json() as { jars: { code: string }[] };
      expect((await fresh.web.inject(`/J/${jars[0]?.code}`)).body).toContain('PRACTICE');

      await fresh.web.inject('/set-up');
      await posted(fresh, '/set-up', { ...house, ...owner, word: fresh.words.at(-1) ?? '' });
      expect((await posted(fresh, '/practice', {})).headers.location).toBe('/sign-in');
    } finally {
      await fresh.close();
    }
  });

  test('ten wrong words, and another is printed; an hour later too', async () => {
    const fresh = await aServer();
    try {
      await fresh.web.inject('/set-up');
      for (let n = 0; n < 10; n++) await posted(fresh, '/set-up', { ...house, ...owner, word: `WRONG-${n}` });
      expect(fresh.words).toHaveLength(2);
      fresh.clock.now = new Date(fresh.clock.now.getTime() + 3_600_000);
      await fresh.web.inject('/set-up');
      expect(fresh.words).toHaveLength(3);
      const old = await posted(fresh, '/set-up', { ...house, ...owner, word: fresh.words[1] ?? '' });
      expect(old.statusCode).toBe(422);
    } finally {
      await fresh.close();
    }
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

  test('the wait after wrong passwords doubles, ends by itself, and spares the device that is known', async () => {
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

  test('a write is taken only from our own pages, or with a key', async () => {
    const cookie = await signedIn(at, 'WE', owner.password);
    const out = (headers: Record<string, string>) =>
      at.web.inject({ method: 'POST', url: '/sign-out', headers: { cookie, ...headers } });
    expect((await out({ origin: 'https://elsewhere.example' })).statusCode).toBe(403);
    expect((await out({ origin: 'null' })).statusCode).toBe(403);
    expect((await out({})).statusCode).toBe(403);
    expect((await out({ 'sec-fetch-site': 'cross-site', origin: 'http://localhost' })).statusCode).toBe(403);
    expect((await out({ 'sec-fetch-site': 'same-origin', origin: 'http://localhost' })).statusCode).toBe(303);
  });

  test('a guest’s link is opened by a button, once a device, until it is ended', async () => {
    const link = await makeGuestLink(at.book, 'home', { name: 'Inspector', days: 7, by: 'WE' }, at.clock.now);
    if ('problem' in link) throw new Error('no link');
    const path = `/guest/${link.token}`;
    const shown = await at.web.inject(path);
    expect(shown.body).toContain('Inspector');
    expect(shown.headers['set-cookie']).toBeUndefined();

    const opened = await posted(at, path, {});
    expect([opened.statusCode, opened.headers.location]).toEqual([303, '/']);
    const cookie = opened.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
    expect((await posted(at, path, {}, { cookie })).statusCode).toBe(303);
    const onlyMark = opened.cookies
      .filter((each) => each.name === 'boilbook-link')
      .map((each) => `${each.name}=${each.value}`);
    expect((await posted(at, path, {}, { cookie: onlyMark.join() })).statusCode).toBe(410);
    expect((await posted(at, path, {})).statusCode).toBe(303);

    expect(at.log.join('\n')).not.toContain(link.token);
    await at.book.writeHousehold((sql) =>
      endGuestLink(sql, 'home', hashOfToken(link.token), at.clock.now.toISOString()),
    );
    expect((await at.web.inject(path)).statusCode).toBe(410);
    expect((await at.web.inject({ url: '/nothing', headers: { cookie } })).headers.location).toContain('/sign-in');
  });

  test('a guest’s link runs out', async () => {
    const link = await makeGuestLink(at.book, 'home', { name: 'Inspector', days: 1, by: 'WE' }, at.clock.now);
    if ('problem' in link) throw new Error('no link');
    at.clock.now = new Date(at.clock.now.getTime() + 86_400_001);
    expect((await at.web.inject(`/guest/${link.token}`)).statusCode).toBe(410);
  });

  test('the owner lets people in, makes keys and links, and ends them, on a page', async () => {
    const cookie = await signedIn(at, 'WE', owner.password);
    const deed = (path: string, fields: Record<string, string>) => posted(at, `/people${path}`, fields, { cookie });
    const shown = () => at.web.inject({ url: '/people', headers: { cookie } });

    expect(
      (await deed('', { initials: 'NN', name: 'Nell', role: 'helper', password: 'tin cup on a nail' })).statusCode,
    ).toBe(303);
    const nell = await signedIn(at, 'NN', 'tin cup on a nail');
    expect((await at.web.inject({ url: '/people', headers: { cookie: nell } })).statusCode).toBe(403);
    const own = (fields: Record<string, string>) => posted(at, '/you/password', fields, { cookie: nell });
    expect((await own({ old: 'not that', password: 'a ladle hung in the rafters' })).statusCode).toBe(422);
    expect((await own({ old: 'tin cup on a nail', password: 'a ladle hung in the rafters' })).statusCode).toBe(303);
    expect((await at.web.inject({ url: '/you', headers: { cookie: nell } })).statusCode).toBe(200);
    await signedIn(at, 'NN', 'a ladle hung in the rafters');

    const keyPage = await deed('/keys', { name: 'market-sheet', role: 'guest' });
    const key = /<code class="code">([\w-]{43})</.exec(keyPage.body)?.[1] ?? '';
    const asKey = () => at.web.inject({ url: '/api/record', headers: { authorization: `Bearer ${key}` } });
    expect((await asKey()).statusCode).toBe(200);
    expect((await shown()).body).not.toContain(key);
    await deed('/keys/end', { name: 'market-sheet' });
    expect((await asKey()).statusCode).toBe(401);

    const linkPage = await deed('/links', { name: 'Inspector of jars', days: '3' });
    const link = /<code class="code">(\/guest\/[\w-]{43})</.exec(linkPage.body)?.[1] ?? '';
    expect((await at.web.inject(link)).statusCode).toBe(200);
    const wrong = await deed('/links', { name: 'Someone', days: 'many' });
    expect([wrong.statusCode, wrong.body.includes('value="Someone"')]).toEqual([422, true]);

    const session =
      /name="session" value="([0-9a-f]{64})"><button class="quiet">Sign out there<span class="unseen">: NN/.exec(
        (await shown()).body,
      )?.[1] ?? '';
    expect((await deed('/sessions/end', { session })).statusCode).toBe(303);
    expect((await deed('/end', { initials: 'NN' })).statusCode).toBe(303);
    expect((await at.web.inject({ url: '/you', headers: { cookie: nell } })).statusCode).toBe(303);
  });

  test('the last owner stays, and who is ended is out at once', async () => {
    expect(await endPerson(at.book, 'home', 'WE', at.clock.now)).toMatchObject({ problem: { rule: 'last-owner' } });
    expect(await addPerson(at.book, 'home', { initials: 'WE', role: 'maker' })).toMatchObject({
      problem: { rule: 'last-owner' },
    });
    await addPerson(at.book, 'home', { initials: 'JP', role: 'maker', password: 'cold spring ladle' });
    const cookie = await signedIn(at, 'JP', 'cold spring ladle');
    await endPerson(at.book, 'home', 'JP', at.clock.now);
    expect((await at.web.inject({ url: '/nothing', headers: { cookie } })).statusCode).toBe(303);
    expect((await posted(at, '/sign-in', { initials: 'JP', password: 'cold spring ladle' })).statusCode).toBe(422);
  });

  test('passwords that are tried first are refused, long ones of any kind taken', async () => {
    for (const password of [
      'password1',
      '12345678',
      'qwertyuiop',
      'abababab',
      'OddEllery1',
      'sugarhouse2026',
      'seven77',
    ])
      expect(
        await addPerson(at.book, 'home', { initials: 'OE', name: 'Odd Ellery', role: 'maker', password }),
      ).toMatchObject({
        problem: { kind: 'invalid', faults: [{ field: 'password' }] },
      });
    const long = 'ein Löffel voll ☀ '.repeat(10);
    expect(await addPerson(at.book, 'home', { initials: 'OE', role: 'maker', password: long })).toMatchObject({
      role: 'maker',
    });
    expect((await posted(at, '/sign-in', { initials: 'OE', password: long })).statusCode).toBe(303);
  });

  test('nothing secret is in the log, and each line carries its request', async () => {
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

  test('a proxy is believed only where it is named', async () => {
    const behind = await aServer(
      { BOILBOOK_TRUST_PROXY: '127.0.0.1', BOILBOOK_PUBLIC_URL: 'https://jars.tamarack.example' },
      { visitsAMinute: 4 },
    );
    const open = await aServer({}, { visitsAMinute: 4 });
    try {
      const from = (one: AServer, address: string) =>
        one.web.inject({ url: '/set-up', headers: { 'x-forwarded-for': address, 'x-forwarded-proto': 'https' } });
      const statuses = async (one: AServer) => {
        const seen: number[] = [];
        for (let n = 0; n < 6; n++) seen.push((await from(one, `203.0.113.${n}`)).statusCode);
        return seen;
      };
      expect(await statuses(behind)).toEqual([200, 200, 200, 200, 200, 200]);
      expect(await statuses(open)).toEqual([200, 200, 200, 200, 429, 429]);
      const form = { ...house, ...owner, word: behind.words[0] ?? '' };
      const done = await posted(behind, '/set-up', form, {
        origin: 'https://jars.tamarack.example',
        'x-forwarded-proto': 'https',
        'x-forwarded-for': '203.0.113.9',
      });
      expect([done.statusCode, String(done.headers['set-cookie']).includes('__Host-boilbook=')]).toEqual([303, true]);
    } finally {
      await behind.close();
      await open.close();
    }
  });

  test('open pages take so many visits a minute from one place', async () => {
    const busy = await aServer({}, { visitsAMinute: 20 });
    try {
      const answers = await Promise.all(Array.from({ length: 30 }, () => busy.web.inject('/sign-in')));
      expect(answers.filter((each) => each.statusCode === 303)).toHaveLength(20);
      expect(answers.at(-1)?.headers['retry-after']).toBe('3');
      busy.clock.now = new Date(busy.clock.now.getTime() + 3000);
      expect((await busy.web.inject('/sign-in')).statusCode).toBe(303);
    } finally {
      await busy.close();
    }
  });
});
