import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { walkLog } from '#libs/store/log/log.js';
import { makeCooperative, member, password } from '../support/cooperative.js';
import { posted, startServer, type TestServer } from '../support/server.js';

let at: TestServer;
beforeAll(async () => {
  at = await startServer();
  at.clock.now = new Date('2026-05-01T22:00:00Z');
  await makeCooperative(at);
});
afterAll(() => at.close());

const cookieOf = async (house: string, initials: string): Promise<string> => {
  const answer = await posted(at, '/sign-in', { house: house === 'home' ? '' : house, initials, password });
  return answer.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
};

interface Line {
  readonly sugarhouse: string;
  readonly by: string;
  readonly happenedAt: string;
  readonly record?: { readonly id: string };
}
const lastEntries = async (most: number): Promise<Line[]> => {
  const lines: Line[] = [];
  for await (const row of walkLog(at.book.read)) lines.push(JSON.parse(row.json) as Line);
  return lines.slice(-most);
};

test('the same token from two people and from two sugarhouses is three forms, each with its own time and record', async () => {
  const people = [
    ['home', 'WE', 'A1'],
    ['home', 'OE', 'A2'],
    [member, 'QQ', 'A3'],
  ] as const;
  for (const [house, initials, id] of people) {
    const cookie = await cookieOf(house, initials);
    const form = {
      _once: 'one-token',
      id,
      source: 'a tree',
      volume: '80',
      'volume~unit': 'gal',
      'gatheredAt~ago': 'now',
    };
    const answer = await posted(at, '/sap/gather', form, { cookie });
    expect([initials, answer.statusCode, answer.statusCode === 303 ? '' : answer.body]).toEqual([initials, 303, '']);
    at.clock.now = new Date(at.clock.now.getTime() + 600_000);
  }
  expect(
    (await lastEntries(3)).map(({ sugarhouse, by, happenedAt, record }) => [
      sugarhouse,
      by,
      happenedAt.slice(11, 16),
      record?.id,
    ]),
  ).toEqual([
    ['home', 'WE', '18:00', 'A1'],
    ['home', 'OE', '18:10', 'A2'],
    [member, 'QQ', '18:20', 'A3'],
  ]);
});
