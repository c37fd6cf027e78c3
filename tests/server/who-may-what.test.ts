import { describe, expect, test } from '@jest/globals';
import { apiSuite } from '../support/api-suite.js';
import { engines } from '../support/engines.js';

describe.each(engines())('on $name', (engine) => {
  const keyed = apiSuite(engine);
  const { keys } = keyed;

  test('each route is open to its declared roles and to nobody else', async () => {
    const rank = ['nobody', 'guest', 'helper', 'maker', 'owner'];
    const walked: string[] = [];
    for (const [n, { method, path, access }] of keyed.at.routes.entries()) {
      if (method === 'HEAD' || path.includes('*')) continue;
      // Rights are checked before the book is read: SQLite tries all routes, PostgreSQL each fourth.
      if (engine.name === 'PostgreSQL' && n % 4 > 0) continue;
      const url = path
        .replace(/:code|:id|:lot|:gtin/g, 'none')
        .replace(':year', '2026')
        .replace(':token', 'none')
        .replace(/:\w+/g, 'none');
      for (const role of ['nobody', 'guest', 'helper', 'maker']) {
        const needs = access === 'anybody' ? 'nobody' : access;
        const enough = rank.indexOf(role) >= rank.indexOf(needs);
        const headers = role === 'nobody' ? { origin: 'http://localhost' } : { authorization: `Bearer ${keys[role]}` };
        // A malformed body: whoever has no access must be refused before it is read.
        const answer = await keyed.at.web.inject({
          method: method as 'POST',
          url,
          headers: { ...headers, ...(method === 'GET' ? {} : { 'content-type': 'application/json' }) },
          ...(method === 'GET' ? {} : { payload: '{"' }),
        });
        const turned =
          answer.statusCode === 401 ||
          answer.statusCode === 403 ||
          String(answer.headers.location).startsWith('/sign-in');
        if (enough ? turned && access !== 'anybody' : !turned)
          walked.push(`${role} ${method} ${url}: ${answer.statusCode}`);
        if (answer.statusCode >= 500) walked.push(`${role} ${method} ${url}: ${answer.statusCode}`);
      }
    }
    expect(walked).toEqual([]);
    expect(
      keyed.at.routes.filter((row) => row.access === 'anybody' && row.path.startsWith('/api')).map((row) => row.path),
    ).toEqual(expect.arrayContaining(['/api/openapi.json', '/api/reckon/:question']));
    expect(keyed.at.routes.length).toBeGreaterThan(100);
  });
});
