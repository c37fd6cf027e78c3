import { describe, expect, test } from '@jest/globals';
import { apiSuite } from '../support/api-suite.js';
import { engines } from '../support/engines.js';

describe.each(engines())('on $name', (engine) => {
  const keyed = apiSuite(engine);
  const { get: request, sent } = keyed;

  describe('the jar page', () => {
    test('shows the label’s content, in either case, and nothing of other jars', async () => {
      const code = keyed.day.jars[0] ?? '';
      const answer = await request(`/J/${code}`, 'nobody');
      expect([answer.statusCode, answer.headers['cache-control']]).toEqual([200, 'public, no-cache']);
      expect(answer.body).toContain(`<code>${keyed.day.pack}</code>`);
      expect(answer.body).toContain('Tamarack Hollow Sugarhouse');
      // The jar's own code is random and may contain anyone's initials.
      const besideItsCode = answer.body.replaceAll(code, '').replaceAll(`${code.slice(0, 4)}-${code.slice(4)}`, '');
      for (const hidden of [...keyed.day.jars.slice(1), 'Millrace', 'G041', 'JP', '186 F'])
        expect(besideItsCode).not.toContain(hidden);
      expect((await request(`/j/${code.slice(0, 4)}-${code.slice(4).toLowerCase()}`, 'nobody')).body).toBe(answer.body);
      expect((await request(`/01/09520123456788/10/${keyed.day.pack}/21/${code}`, 'nobody')).body).toBe(answer.body);
      expect((await request(`/01/09520123456788/10/${keyed.day.cold}/21/${code}`, 'nobody')).statusCode).toBe(404);
    });

    test('keeps each number with its unit and comes in the typeface of the labels, which this server has', async () => {
      const { body, headers } = await request(`/j/${keyed.day.jars[0]}`, 'nobody');
      expect(body).toContain('8\u00a0FL OZ (236\u00a0mL)');
      const fonts = [...body.matchAll(/url\((\/assets\/fonts\/[^)]+)\)/g)].map(([, path]) => path ?? '');
      expect(fonts).toHaveLength(2);
      for (const font of fonts) expect((await request(font, 'nobody')).statusCode).toBe(200);
      expect(headers['content-security-policy']).toContain("font-src 'self'");
      expect(body).not.toContain('src="http');
    });

    test('a customer dials the makers from the form and from its answer', async () => {
      for (const page of ['report', 'reported'])
        expect((await request(`/j/${keyed.day.jars[0]}/${page}`, 'nobody')).body).toContain(
          '<a href="tel:8025550100">',
        );
    });

    test('gives the same answer for the code of no jar and a misread one', async () => {
      const pages = await Promise.all(
        ['AAAAAAAA', 'G1234985', 'x', '%20'].map((code) => request(`/j/${code}`, 'nobody')),
      );
      expect(pages.map((each) => each.statusCode)).toEqual([404, 404, 404, 404]);
      expect(new Set(pages.map((each) => each.body)).size).toBe(1);
    });

    test('begins with the recall of its lot, what to do and whom to call', async () => {
      expect((await sent(`/api/lots/${keyed.day.pack}/recall`, { why: 'a jar came back mouldy' })).statusCode).toBe(
        201,
      );
      const { body } = await request(`/J/${keyed.day.jars[0]}`, 'nobody');
      expect(body.indexOf('RECALLED')).toBeLessThan(body.indexOf('<main>'));
      expect(body).toContain('Do not eat this syrup');
      expect(body).toContain('tel:8025550100');
      expect(body).not.toContain('mouldy');
    });
  });
});
