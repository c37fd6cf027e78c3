import { expect, test } from '@jest/globals';
import { sqlite } from '../support/engines.js';
import { apiSuite } from '../support/api-suite.js';

const keyed = apiSuite(sqlite());

/** The fixed parts of an address identify its route; a parameter matches any text. */
const filled = (path: string): string => path.replace(/:\w+/g, 'none').replace('*', 'none');

test('every address answers each method that it doesn’t take with 405 and those that it takes', async () => {
  const takes = new Map<string, Set<string>>();
  for (const { method, path } of keyed.at.routes) {
    const url = filled(path);
    takes.set(url, (takes.get(url) ?? new Set<string>()).add(method));
  }
  const wrong: string[] = [];
  let tried = 0;
  for (const [url, taken] of takes)
    for (const method of ['GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE'] as const) {
      if (taken.has(method)) continue;
      tried++;
      const headers = { authorization: `Bearer ${keyed.keys['owner']}` };
      const answer = await keyed.at.web.inject({ method, url, headers });
      const allow = [...taken].sort().join(', ');
      if (answer.statusCode !== 405 || answer.headers.allow !== allow)
        wrong.push(`${method} ${url}: ${answer.statusCode}, Allow ${String(answer.headers.allow)}, not ${allow}`);
    }
  expect(wrong).toEqual([]);
  expect(tried).toBeGreaterThan(1000);
});
