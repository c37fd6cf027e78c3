import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addPerson, endPerson } from '#libs/actions/accounts/accounts.js';
import { makeGuestLink } from '#libs/actions/accounts/sign-in.js';
import { endGuestLink } from '#libs/store/household/household-tokens.js';
import { hashOfToken } from '#libs/actions/accounts/tokens.js';
import { owner, setUp } from '../support/newcomer.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';
import { engines } from '../support/engines.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

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

  test('a guest’s link is opened by a button, once per device, until it is ended', async () => {
    const link = await makeGuestLink(at.book, 'home', { name: 'Inspector', days: 7, by: 'WE' }, at.clock.now);
    if ('problem' in link) throw new Error('no link');
    const path = `/guest/${link.token}`;
    const shown = await at.web.inject(path);
    expect(shown.body).toContain('Inspector');
    expect(shown.headers['set-cookie']).toBeUndefined();

    const opened = await posted(at, path, {});
    expect([opened.statusCode, opened.headers.location]).toEqual([303, '/season']);
    const cookie = opened.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
    expect((await posted(at, path, {}, { cookie })).statusCode).toBe(303);
    const records = await at.web.inject({ url: '/supporting-records', headers: { cookie } });
    expect([records.statusCode, records.body.includes('/new"')]).toEqual([200, false]);
    const onlyMark = opened.cookies
      .filter((each) => each.name === 'boilbook-link')
      .map((each) => `${each.name}=${each.value}`);
    expect((await posted(at, path, {}, { cookie: onlyMark.join() })).statusCode).toBe(410);
    expect((await posted(at, path, {})).statusCode).toBe(303);

    expect(at.log.join('\n')).not.toContain(link.token);
    await at.book.writeHousehold((sql) =>
      endGuestLink(sugarhouseReader(sql, 'home'), hashOfToken(link.token), at.clock.now.toISOString()),
    );
    expect((await at.web.inject(path)).statusCode).toBe(410);
    expect((await at.web.inject({ url: '/nothing', headers: { cookie } })).headers.location).toContain('/sign-in');
  });

  test('a guest’s link expires', async () => {
    const link = await makeGuestLink(at.book, 'home', { name: 'Inspector', days: 1, by: 'WE' }, at.clock.now);
    if ('problem' in link) throw new Error('no link');
    at.clock.now = new Date(at.clock.now.getTime() + 86_400_001);
    expect((await at.web.inject(`/guest/${link.token}`)).statusCode).toBe(410);
  });

  test('the owner adds people, makes keys and links, and ends them, on a page', async () => {
    const cookie = await signedIn(at, 'WE', owner.password);
    const entryType = (path: string, fields: Record<string, string>) =>
      posted(at, `/people${path}`, fields, { cookie });
    const shown = () => at.web.inject({ url: '/people', headers: { cookie } });

    expect(
      (await entryType('', { initials: 'NN', name: 'Nell', role: 'helper', password: 'tin cup on a nail' })).statusCode,
    ).toBe(303);
    const nell = await signedIn(at, 'NN', 'tin cup on a nail');
    expect((await at.web.inject({ url: '/people', headers: { cookie: nell } })).statusCode).toBe(403);
    const own = (fields: Record<string, string>) => posted(at, '/account/password', fields, { cookie: nell });
    expect((await own({ old: 'not that', password: 'a ladle hung in the rafters' })).statusCode).toBe(422);
    expect((await own({ old: 'tin cup on a nail', password: 'a ladle hung in the rafters' })).statusCode).toBe(303);
    expect((await at.web.inject({ url: '/account', headers: { cookie: nell } })).statusCode).toBe(200);
    await signedIn(at, 'NN', 'a ladle hung in the rafters');

    const keyPage = await entryType('/keys', { name: 'market-sheet', role: 'guest' });
    const key = /<code class="code">([\w-]{43})</.exec(keyPage.body)?.[1] ?? '';
    const asKey = () => at.web.inject({ url: '/api/record', headers: { authorization: `Bearer ${key}` } });
    expect((await asKey()).statusCode).toBe(200);
    expect((await shown()).body).not.toContain(key);
    await entryType('/keys/end', { name: 'market-sheet' });
    expect((await asKey()).statusCode).toBe(401);

    const linkPage = await entryType('/links', { name: 'Inspector of jars', days: '3' });
    const link = /<code class="code">http:\/\/[^/<]+(\/guest\/[\w-]{43})</.exec(linkPage.body)?.[1] ?? '';
    expect((await at.web.inject(link)).statusCode).toBe(200);
    const wrong = await entryType('/links', { name: 'Someone', days: 'many' });
    expect([wrong.statusCode, wrong.body.includes('value="Someone"')]).toEqual([422, true]);

    const session =
      /name="session" value="([0-9a-f]{64})"\/?><button class="quiet">Sign out there<span class="unseen">: NN/.exec(
        (await shown()).body,
      )?.[1] ?? '';
    expect((await entryType('/sessions/end', { session })).statusCode).toBe(303);
    expect((await entryType('/end', { initials: 'NN' })).statusCode).toBe(303);
    expect((await at.web.inject({ url: '/account', headers: { cookie: nell } })).statusCode).toBe(303);
  });

  test('the last owner can’t be removed, and anyone removed is signed out at once', async () => {
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

  test('common passwords are refused, long ones of any kind accepted', async () => {
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
});
