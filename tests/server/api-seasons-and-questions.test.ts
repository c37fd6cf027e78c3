import { describe, expect, test } from '@jest/globals';
import { epcisTerms } from '#libs/reports/epcis/terms.js';
import { readHead } from '#libs/store/log/log.js';
import { apiSuite } from '../support/api-suite.js';
import { engines } from '../support/engines.js';

describe.each(engines())('on $name', (engine) => {
  const keyed = apiSuite(engine);
  const { get: request } = keyed;

  describe('seasons, calculators and the description', () => {
    test.each([
      ['pdf', 'application/pdf'],
      ['xlsx', 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet'],
      ['csv', 'text/csv; charset=utf-8'],
      ['json', 'application/json; charset=utf-8'],
      ['jsonld', 'application/ld+json; charset=utf-8'],
    ])('the summary of a year is returned as %s', async (ending, type) => {
      const answer = await request(`/api/seasons/2026/summary.${ending}`, 'guest');
      expect([answer.statusCode, answer.headers['content-type']]).toEqual([200, type]);
      expect(answer.rawPayload.length).toBeGreaterThan(100);
      if (ending === 'json') {
        const { entries: n, root } = await readHead(keyed.at.book.read);
        expect(answer.json()).toMatchObject({ year: 2026, record: { entries: n, root } });
      }
    });

    test('the address of each lot, place, jar and event of EPCIS opens for people who are signed in', async () => {
      const base = 'https://jars.tamarack.example';
      const text = (await request('/api/seasons/2026/summary.jsonld', 'guest')).body;
      const named = [...new Set(text.match(/https:\/\/jars\.tamarack\.example\/[^"]+/g))];
      expect(named).toContain(`${base}/terms/`);
      expect(named).toEqual(expect.arrayContaining([`${base}/place/sugarhouse`, `${base}/lot/26077A-1`]));
      const answers: unknown[] = [];
      for (const name of named) {
        let url = name.slice(base.length);
        for (let step = 0; step < 3; step += 1) {
          const answer = await keyed.at.web.inject({
            url,
            headers: { authorization: `Bearer ${keyed.keys['maker']}` },
          });
          if (answer.statusCode !== 303) {
            answers.push([name, answer.statusCode]);
            break;
          }
          url = String(answer.headers['location']);
        }
      }
      expect(answers).toEqual(named.map((name) => [name, 200]));
    });

    test('the terms of EPCIS events are explained to anybody, as a page and as JSON-LD, together and one by one', async () => {
      const ask = (url: string, accept: string) => keyed.at.web.inject({ url, headers: { accept } });
      const page = await ask('/terms/', 'text/html');
      expect([page.statusCode, page.headers['content-type']]).toEqual([200, 'text/html; charset=utf-8']);
      for (const { name, meaning } of epcisTerms) {
        expect(page.body).toContain(` id="${name}"`);
        expect(page.body).toContain(meaning);
        const one = await ask(`/terms/${name}`, 'text/html');
        expect([one.statusCode, one.headers.location]).toEqual([303, `/terms#${name}`]);
        const linked = await ask(`/terms/${name}`, 'application/ld+json');
        expect([linked.statusCode, linked.headers['content-type']]).toEqual([
          200,
          'application/ld+json; charset=utf-8',
        ]);
        expect(linked.json()).toMatchObject({
          '@graph': [{ '@id': `https://jars.tamarack.example/terms/${name}`, comment: meaning }],
        });
      }
      const all = await ask('/terms/', 'application/ld+json');
      expect(all.json<{ '@graph': unknown[] }>()['@graph']).toHaveLength(epcisTerms.length);
      expect((await ask('/terms/none', 'text/html')).statusCode).toBe(404);
    });

    test('a calculator is public, with its fields in the query or in a body', async () => {
      const asking = await request('/api/reckon/shrink?fillAt=180+F&density=66.9+Bx', 'nobody');
      expect([asking.statusCode, asking.json<{ percent: number }>().percent]).toEqual([200, expect.any(Number)]);
      const posted = await keyed.at.web.inject({
        method: 'POST',
        url: '/api/reckon/shrink',
        payload: { fillAt: '180 F', density: '66.9 Bx' },
      });
      expect(posted.json<{ percent: number }>().percent).toBe(asking.json<{ percent: number }>().percent);
      const wrong = await request('/api/reckon/shrink?fillAt=180', 'nobody');
      expect([
        wrong.statusCode,
        wrong.json<{ faults: { field: string }[] }>().faults.map((each) => each.field),
      ]).toEqual([422, ['fillAt', 'density']]);
      expect((await request('/api/reckon/future', 'nobody')).statusCode).toBe(404);
    });

    test('the description contains every route of /api and nothing else', async () => {
      const described = (await request('/api/openapi.json', 'nobody')).json<{
        paths: Record<string, Record<string, { security: unknown[] }>>;
      }>();
      const formatted = Object.entries(described.paths).flatMap(([path, methods]) =>
        Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`),
      );
      const there = keyed.at.routes
        .filter((row) => row.path.startsWith('/api/') && row.method !== 'HEAD')
        .filter((row) => !['/api/openapi.json', '/api/docs'].includes(row.path))
        .map((row) => `${row.method} ${row.path.replace(/:(\w+)/g, '{$1}')}`);
      expect(formatted.sort()).toEqual([...new Set(there)].sort());
      expect(described.paths['/api/packs']?.['post']?.security).toEqual([{ key: [] }]);
      expect(described.paths['/api/reckon/{question}']?.['get']?.security).toEqual([]);
    });
  });
});
