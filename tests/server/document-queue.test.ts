import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { record } from '#libs/actions/record/record.js';
import { writeDay } from '../support/season-server.js';
import { startServer, type TestServer } from '../support/server.js';

describe('documents requested all at once', () => {
  let at: TestServer;
  const keys: Record<string, string> = {};
  let pack = '';
  beforeAll(async () => {
    at = await startServer();
    await writeDay(at);
    for (const [name, role] of [
      ['inspector', 'guest'],
      ['office', 'owner'],
      ['pad', 'helper'],
    ] as const) {
      const made = await addKey(at.book, 'home', { name, role }, at.clock.now);
      if ('key' in made) keys[name] = made.key;
    }
    const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: at.clock.now, zone: 'America/New_York' };
    const begun = await record(at.book, context, packsUnderway, {
      fromLots: '26077A:1 fl oz',
      packedAt: '2026-03-20T10:00',
      container: 'glass jar 8 fl oz',
      by: 'OE',
    });
    if (!('problem' in begun)) pack = begun.id;
  });
  afterAll(() => at.close());

  const ask = (url: string, name: string) => at.web.inject({ url, headers: { authorization: `Bearer ${keys[name]}` } });

  test('wait in a queue, and are answered with Retry-After when it is full', async () => {
    const answers = await Promise.all(
      Array.from({ length: 24 }, () => ask('/api/seasons/2026/summary.pdf', 'inspector')),
    );
    const refused = answers.filter((answer) => answer.statusCode === 503);
    expect(answers.filter((answer) => answer.statusCode === 200)).toHaveLength(9);
    expect(refused).toHaveLength(15);
    expect(refused.map((answer) => answer.headers['retry-after'])).toEqual(refused.map(() => '30'));
    expect((await ask('/api/seasons/2026/summary.json', 'inspector')).statusCode).toBe(200);
  }, 60_000);

  test('through one link are sent after another person’s document and after fill readings, though asked for first', async () => {
    const answered: string[] = [];
    const inspectors = Array.from({ length: 24 }, async () => {
      const { statusCode } = await ask('/api/seasons/2026/summary.pdf', 'inspector');
      if (statusCode === 200) answered.push('document of the inspector');
    });
    const others = ask('/api/seasons/2026/summary.pdf', 'office').then(({ statusCode }) =>
      answered.push(`document of the office: ${statusCode}`),
    );
    for (let n = 0; n < 5; n++) {
      const tap = await at.web.inject({
        method: 'POST',
        url: `/packs/${pack}/fill`,
        payload: new URLSearchParams({ temperature: '186', 'temperature~unit': 'F' }).toString(),
        headers: {
          'content-type': 'application/x-www-form-urlencoded',
          authorization: `Bearer ${keys['pad']}`,
        },
      });
      answered.push(`fill reading ${n}: ${tap.statusCode}`);
    }
    await Promise.all([...inspectors, others]);
    const last = answered.lastIndexOf('document of the inspector');
    expect(answered.filter((each) => each === 'document of the inspector')).toHaveLength(9);
    for (const each of ['document of the office: 200', 'fill reading 0: 303', 'fill reading 4: 303']) {
      expect(answered).toContain(each);
      expect(answered.indexOf(each)).toBeLessThan(last);
    }
  }, 120_000);
});
