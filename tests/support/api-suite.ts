import { afterAll, beforeAll, expect } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { readHead } from '#libs/store/log/log.js';
import { type Answer, answerChecker, type Described } from './api-description.js';
import { writeDay } from './season-server.js';
import { startServer, type TestServer } from './server.js';
import type { Engine } from './engines.js';

/** A gathering as a script sends it; its `id` is the test's. */
export const gathering = { gatheredAt: '2026-03-19T15:00', source: 'lower lines', volume: '80 gal', by: 'JP' };

/**
 * A book with a day's work, open for a suite, and a script's key of each role to read and write with over /api. Every
 * response is compared with the description at /api/openapi.json.
 */
export function apiSuite(engine: Engine) {
  let at: TestServer;
  let day: Awaited<ReturnType<typeof writeDay>>;
  let faultsOf: ReturnType<typeof answerChecker>;
  const keys: Record<string, string> = {};
  beforeAll(async () => {
    await engine.start();
    at = await startServer({ BOILBOOK_PUBLIC_URL: 'https://jars.tamarack.example' }, { engine });
    day = await writeDay(at);
    faultsOf = answerChecker((await at.web.inject('/api/openapi.json')).json<Described>());
    for (const role of ['owner', 'maker', 'helper', 'guest']) {
      const made = await addKey(at.book, 'home', { name: `${role} script`, role }, at.clock.now);
      if ('key' in made) keys[role] = made.key;
    }
  });
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });

  const asDescribed = async <T extends Promise<Answer>>(
    method: string,
    url: string,
    answer: T,
  ): Promise<Awaited<T>> => {
    const answered = await answer;
    expect(faultsOf(method, url, answered)).toEqual([]);
    return answered;
  };

  return {
    // Both exist once the suite has started, so they are read where they are used.
    get at() {
      return at;
    },
    get day() {
      return day;
    },
    keys,
    get: (url: string, role = 'maker') =>
      asDescribed(
        'GET',
        url,
        at.web.inject({ url, headers: role === 'nobody' ? {} : { authorization: `Bearer ${keys[role]}` } }),
      ),
    sent: (url: string, body: unknown, headers: Record<string, string> = {}, role = 'maker') =>
      asDescribed(
        'POST',
        url,
        at.web.inject({
          method: 'POST',
          url,
          payload: typeof body === 'string' ? body : JSON.stringify(body),
          headers: { 'content-type': 'application/json', authorization: `Bearer ${keys[role]}`, ...headers },
        }),
      ),
    entries: async () => (await readHead(at.book.read)).entries,
  };
}
