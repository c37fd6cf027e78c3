import { truncateSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { readHead } from '#libs/store/log/log.js';
import { house, owner } from '../support/newcomer.js';
import { startServer, posted, signedIn, type TestServer } from '../support/server.js';
import { engines } from '../support/engines.js';

describe.each(engines())('on $name', (engine) => {
  let at: TestServer;
  beforeAll(async () => {
    await engine.start();
    at = await startServer({}, { engine });
  });
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  test('a newcomer sets the book up with the printed code, and only with it', async () => {
    expect((await at.web.inject('/sign-in')).headers.location).toBe('/set-up');
    const form = await at.web.inject('/set-up');
    expect(form.statusCode).toBe(200);
    expect(at.lines).toHaveLength(1);

    const wrong = await posted(at, '/set-up', { ...house, ...owner, word: 'AAAAA-AAAAA' });
    expect(wrong.statusCode).toBe(422);
    expect(wrong.body).toContain('Tamarack Hollow Sugarhouse');
    expect(wrong.body).toContain('Setup code: enter the setup code that the server printed');
    expect(wrong.body).not.toContain(owner.password);

    const short = await posted(at, '/set-up', {
      ...house,
      ...owner,
      password: 'short',
      place: 'Atlantis',
      word: at.lines[0] ?? '',
    });
    expect(short.body).toContain('Password: enter a password of 8 characters or more');
    expect(short.body).toContain(': enter a place such as Vermont');

    const done = await posted(at, '/set-up', { ...house, ...owner, word: (at.lines[0] ?? '').toLowerCase() });
    expect([done.statusCode, done.headers.location]).toEqual([303, '/']);
    expect(String(done.headers['set-cookie'])).toContain('HttpOnly; SameSite=Lax');

    const again = await posted(at, '/set-up', { ...house, ...owner, initials: 'OE', word: at.lines[0] ?? '' });
    expect(again.headers.location).toBe('/sign-in');
  });

  test.each([
    ['Quebec', {}, '°C*', 'L*'],
    ['Vermont', {}, '°F*', 'gal*'],
    ['Quebec', { temperatures: 'F' }, '°F*', 'L*'],
  ])(
    'in %s with %j the boxes offer the measures of its country, or those chosen',
    async (place, chosen, degrees, volume) => {
      const fresh = await startServer();
      try {
        const form = (await fresh.web.inject('/set-up')).body;
        expect(form).not.toMatch(/name="(temperatures|volumes)"[^>]* checked/);
        const done = await posted(fresh, '/set-up', {
          ...house,
          place,
          ...chosen,
          ...owner,
          word: fresh.lines[0] ?? '',
        });
        expect(done.statusCode).toBe(303);
        const cookie = await signedIn(fresh, 'WE', owner.password);
        const gather = (await fresh.web.inject({ url: '/sap/gather', headers: { cookie } })).body;
        const first = (name: string) =>
          new RegExp(`<select[^>]*name="${name}~unit"[^>]*><option[^>]*>([^<]+)<`).exec(gather)?.[1];
        expect([`${first('temperature')}*`, `${first('volume')}*`]).toEqual([degrees, volume]);
      } finally {
        await fresh.close();
      }
    },
  );

  test('one button opens the practice book, which is another book with its own sessions', async () => {
    const fresh = await startServer();
    try {
      const opened = await posted(fresh, '/practice', {});
      expect([opened.statusCode, opened.headers.location]).toEqual([303, '/']);
      const cookie = opened.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
      const record = await fresh.web.inject({ url: '/api/record', headers: { cookie } });
      expect(record.json<{ entries: number }>().entries).toBeGreaterThan(50);
      expect((await readHead(fresh.book.read)).entries).toBe(0);
      expect((await fresh.web.inject({ url: '/', headers: { cookie } })).body).toContain('PRACTICE');
      const packs = (await fresh.web.inject({ url: '/api/packs?most=1', headers: { cookie } })).json<{
        items: { lot: string }[];
      }>();
      const { jars } = (
        await fresh.web.inject({ url: `/api/lots/${packs.items[0]?.lot}/jars?most=1`, headers: { cookie } })
      ).json<{ jars: { code: string }[] }>();
      expect((await fresh.web.inject(`/J/${jars[0]?.code}`)).body).toContain('PRACTICE');

      await fresh.web.inject('/set-up');
      await posted(fresh, '/set-up', { ...house, ...owner, word: fresh.lines.at(-1) ?? '' });
      expect((await posted(fresh, '/practice', {})).headers.location).toBe('/sign-in');
      // Anyone signed in finds it on their account page, with a link back.
      const signed = await signedIn(fresh, owner.initials, owner.password);
      const account = async (as: string) => (await fresh.web.inject({ url: '/account', headers: { cookie: as } })).body;
      expect(await account(signed)).toMatch(/action="\/practice"[^]*Open the practice book/);
      const entered = await posted(fresh, '/practice', {}, { cookie: signed });
      const inside = entered.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
      expect(await account(inside)).toContain('Leave the practice book');
      expect(await account(inside)).not.toContain('action="/practice"');
    } finally {
      await fresh.close();
    }
  });

  test('before the book has an owner, practice is limited to one visitor and stays small', async () => {
    const fresh = await startServer();
    try {
      const from = (remoteAddress: string, url: string, headers: Record<string, string> = {}) =>
        fresh.web.inject({
          method: 'POST',
          url,
          remoteAddress,
          payload: 'source=x',
          headers: {
            'content-type': 'application/x-www-form-urlencoded',
            origin: 'http://localhost',
            ...headers,
          },
        });
      const opened = await from('203.0.113.30', '/practice');
      expect(opened.headers.location).toBe('/');
      const other = await from('203.0.113.31', '/practice');
      expect([other.statusCode, other.body.includes('Somebody else is practising')]).toEqual([429, true]);
      expect((await from('127.0.0.1', '/practice')).headers.location).toBe('/');
      const cookie = opened.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
      expect((await from('203.0.113.30', '/sap/gather', { cookie })).statusCode).not.toBe(503);
      // As if it had been filled: the check only looks at the file.
      truncateSync(join(fresh.server.settings.folder, 'practice', 'book.sqlite-wal'), 65 * 1024 * 1024);
      const full = await from('203.0.113.30', '/sap/gather', { cookie });
      expect([full.statusCode, full.body.includes('The practice book is full')]).toEqual([503, true]);
    } finally {
      await fresh.close();
    }
  }, 60_000);

  test('a stranger’s wrong codes lock out the stranger for an hour, and the owner’s code stays valid', async () => {
    const fresh = await startServer();
    try {
      await fresh.web.inject('/set-up');
      const from = (remoteAddress: string, word: string) =>
        fresh.web.inject({
          method: 'POST',
          url: '/set-up',
          remoteAddress,
          payload: new URLSearchParams({ ...house, ...owner, word }).toString(),
          headers: { 'content-type': 'application/x-www-form-urlencoded', origin: 'http://localhost' },
        });
      for (let n = 0; n < 10; n++) await from('203.0.113.7', `WRONG-${n}`);
      expect(fresh.lines).toHaveLength(1);
      const right = fresh.lines[0] ?? '';
      const stopped = await from('203.0.113.7', right);
      expect([stopped.statusCode, stopped.body.includes('a wait of one hour before the next try')]).toEqual([
        422,
        true,
      ]);
      // Another device on the stranger's network counts as somebody else, and so does the owner.
      expect((await from('203.0.113.8', 'WRONG-0')).body).toContain('the setup code that the server printed');
      fresh.clock.now = new Date(fresh.clock.now.getTime() + 3_600_000);
      await fresh.web.inject('/set-up');
      expect(fresh.lines).toHaveLength(2);
      expect((await from('203.0.113.9', right)).statusCode).toBe(422);
      expect((await from('203.0.113.7', fresh.lines[1] ?? '')).statusCode).toBe(303);
    } finally {
      await fresh.close();
    }
  });
});
