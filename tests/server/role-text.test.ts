import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { rights } from '#libs/actions/accounts/rights.js';
import { rightText } from '#libs/actions/accounts/role-text.js';
import { writeDay } from '../support/season-server.js';
import { signedIn, startServer, type TestServer } from '../support/server.js';

let at: TestServer;
let pagesByRole: Map<string, string>;
beforeAll(async () => {
  at = await startServer();
  await writeDay(at);
  const password = 'steam over the roof at night';
  await addPerson(at.book, 'home', { initials: 'WE', name: 'WE', role: 'owner', password });
  const { body } = await at.web.inject({ url: '/people', headers: { cookie: await signedIn(at, 'WE', password) } });
  pagesByRole = new Map(
    [...body.matchAll(/<dt>(\w+)<\/dt><dd>([^<]*)<\/dd>/g)].map(([, role = '', text = '']) => [role, text]),
  );
}, 60_000);
afterAll(() => at.close());

test('the people page lists for each role every right that the table gives it, and none of a higher role', () => {
  expect([...pagesByRole.keys()].sort()).toEqual(['guest', 'helper', 'maker', 'owner', 'packer']);
  for (const [right, writer] of Object.entries(rights)) {
    const text = rightText[right as keyof typeof rights];
    const saysSo = [...pagesByRole].filter(([, pageText]) => pageText.includes(text)).map(([role]) => role);
    expect([right, saysSo]).toEqual([right, [writer]]);
  }
});

test('each role includes the rights of the one below it', () => {
  expect(pagesByRole.get('maker')).toContain('all that a helper does');
  expect(pagesByRole.get('packer')).toContain('all that a maker does');
  expect(pagesByRole.get('owner')).toContain('everything');
  expect(pagesByRole.get('guest')).toContain('reads only');
});
