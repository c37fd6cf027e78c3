import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { house, owner } from '../support/newcomer.js';
import { startServer, posted, type TestServer } from '../support/server.js';
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

  test('the health check is public', async () => {
    const answer = await at.web.inject('/healthz');
    expect([answer.statusCode, answer.json()]).toEqual([200, { ok: true }]);
    expect(answer.headers['content-security-policy']).toContain("script-src 'self'");
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
  });

  test('an unknown address requires signing in as well: 401 under /api, the sign-in page elsewhere', async () => {
    const api = await at.web.inject({ method: 'POST', url: '/api/nothing', payload: '{"broken' });
    expect([api.statusCode, api.headers['content-type']]).toEqual([401, 'application/problem+json; charset=utf-8']);
    expect((await at.web.inject('/api/%zz')).statusCode).toBe(401);
    expect((await at.web.inject({ method: 'PUT', url: '/api' })).statusCode).toBe(401);
    const page = await at.web.inject('/nothing');
    expect([page.statusCode, page.headers.location]).toEqual([303, '/sign-in?back=%2Fnothing']);
  });

  test('an unknown host name is refused, this machine’s own names are not', async () => {
    const to = async (host: string) => (await at.web.inject({ url: '/healthz', headers: { host } })).statusCode;
    expect(await to('elsewhere.example')).toBe(421);
    expect([await to('127.0.0.1:8066'), await to('[::1]:8066'), await to('LOCALHOST')]).toEqual([200, 200, 200]);
  });

  test('typefaces, styles and scripts of the pages are public; other files beside them are not', async () => {
    const font = await at.web.inject('/assets/fonts/atkinson-hyperlegible-next-latin-400-normal.woff2');
    expect([font.statusCode, font.headers['content-type']]).toEqual([200, 'font/woff2']);
    for (const asset of ['book.css', 'book.js']) expect((await at.web.inject(`/assets/${asset}`)).statusCode).toBe(200);
    const folders = ['../', '%2e%2e/', '..%2f', '..%5c', 'fonts/../', 'fonts/%2e%2e/', '%2fwork/', './', '.%00/'];
    const files = [
      'layout.tsx',
      'package.json',
      'README.md',
      '.gitignore',
      'fonts',
      'tsconfig.json',
      'data/book.sqlite',
    ];
    for (const folder of folders)
      for (const file of files) {
        const { statusCode } = await at.web.inject(`/assets/${folder}${file}`);
        expect([folder + file, statusCode >= 300 && statusCode < 500]).toEqual([folder + file, true]);
      }
  });

  test('a proxy is trusted only if it is configured', async () => {
    const behind = await startServer(
      { BOILBOOK_TRUST_PROXY: '127.0.0.1', BOILBOOK_PUBLIC_URL: 'https://jars.tamarack.example' },
      { requestsPerMinute: 4 },
    );
    const open = await startServer({}, { requestsPerMinute: 4 });
    try {
      const from = (one: TestServer, address: string) =>
        one.web.inject({ url: '/set-up', headers: { 'x-forwarded-for': address, 'x-forwarded-proto': 'https' } });
      const statuses = async (one: TestServer) => {
        const seen: number[] = [];
        for (let n = 0; n < 6; n++) seen.push((await from(one, `203.0.113.${n}`)).statusCode);
        return seen;
      };
      expect(await statuses(behind)).toEqual([200, 200, 200, 200, 200, 200]);
      expect(await statuses(open)).toEqual([200, 200, 200, 200, 429, 429]);
      const form = { ...house, ...owner, word: behind.lines[0] ?? '' };
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

  test('public pages accept a limited number of requests a minute from one address', async () => {
    const busy = await startServer({}, { requestsPerMinute: 20 });
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
