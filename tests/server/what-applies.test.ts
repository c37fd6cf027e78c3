import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { placeList } from '#libs/actions/places/places.js';
import { engines } from '../support/engines.js';
import { house, owner } from '../support/newcomer.js';
import { startServer, posted, type TestServer } from '../support/server.js';

describe.each(engines())('what applies to a maker, on $name', (engine) => {
  let at: TestServer;
  let cookie = '';
  beforeAll(async () => {
    await engine.start();
    at = await startServer({}, { engine });
    await at.web.inject('/set-up');
    const done = await posted(at, '/set-up', { ...house, ...owner, word: at.lines[0] ?? '' });
    cookie = done.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
  });
  afterAll(async () => {
    await at.close();
    await engine.stop();
  });
  const page = async (url: string): Promise<string> => (await at.web.inject({ url, headers: { cookie } })).body;
  const request = async (query: string) =>
    (await at.web.inject(`/api/reckon/what-applies?${query}`)).json<{
      place: string;
      offices: { office: string; ask: string }[];
      points: { topic: string; says: string; you: string; source: string; mark: string; readOn: string }[];
      sentences: string[];
    }>();

  test('the calculators, Today, the season and the places link to it', async () => {
    for (const url of ['/calculators', '/', '/season/2026', '/places'])
      expect({ url, leads: (await page(url)).includes('/calculators/what-applies') }).toEqual({ url, leads: true });
  });

  test('the page is for the book’s place by default, and gives offices and sources but no verdict', async () => {
    const body = await page('/calculators/what-applies?shop=yes&aYear=%2412%2C000&toBusinesses=%248%2C000');
    expect(body).toMatch(/<select[^>]* name="place"[^]*<option value="Quebec">/);
    expect(body).toContain('Vermont: what was read, and whom to ask. This is no verdict: the office decides');
    expect(body).toContain('Ask Vermont Agency of Agriculture, Food and Markets');
    expect(body).toContain('6 V.S.A. §§ 481, 483, 484 (read in the source, 2024)');
    expect(body).toContain('21 CFR 1.226(b), (c) (read in the source, 2021-09-23)');
    expect(body).toContain('You gave $4,000 to those who eat it, no more than the $8,000 to businesses');
    expect(body).not.toMatch(/you (are|must|need|may) /i);
  });

  test('points depend on where the syrup is sold, and on the kitchen', async () => {
    const says = async (query: string) => (await request(query)).points.map((point) => point.says).join(' ');
    expect(await says('place=Wisconsin&shop=yes')).toContain('food processing plant licence');
    expect(await says('place=Wisconsin&farmGate=yes')).not.toContain('food processing plant licence');
    expect(await says('place=Connecticut&kitchen=home')).toContain('Not prepared in a government-inspected kitchen.');
    expect(await says('place=Connecticut&kitchen=separate')).not.toContain('government-inspected');
    expect(await says('place=Canada&border=yes')).toContain('graded, by a licence holder');
    expect(await says('place=Ontario&market=yes')).toMatch(/O\. Reg\. 119\/11.*/);
    expect((await request('place=Ohio&product=other')).sentences.join(' ')).toContain(
      'What was read is of pure maple syrup',
    );
  });

  test.each([
    ['Connecticut', '25001', 'more than $25,000'],
    ['Connecticut', '25000', 'no more than $25,000'],
    ['Quebec', '$100,000', 'no more than $100,000'],
    ['Maine', '50000.00', 'no more than $50,000'],
  ])('in %s sales of %s are shown beside the verified limit', async (place, aYear, side) => {
    const { points } = await request(`place=${place}&aYear=${encodeURIComponent(aYear)}`);
    expect(points.filter(({ you }) => you.includes(side)).map(({ you }) => you)[0]).toContain('ask which sales count');
  });

  test('every place has offices to ask, and each point its source, provenance and date', async () => {
    const all = 'farmGate=yes&market=yes&shop=yes&border=yes&kitchen=home';
    for (const { name } of placeList()) {
      const { place, offices, points } = await request(`place=${encodeURIComponent(name)}&${all}`);
      expect({ place, enough: offices.length >= 3 && points.length >= 8 }).toEqual({ place: name, enough: true });
      expect(points.filter(({ source, mark, readOn }) => !source || !mark || (mark !== 'practice' && !readOn))).toEqual(
        [],
      );
      expect(new Set(points.map(({ says }) => says)).size).toBe(points.length);
    }
  });

  test('invalid input is refused at its field', async () => {
    for (const [query, field] of [
      ['place=Atlantis', 'place'],
      ['aYear=plenty', 'aYear'],
      ['aYear=1%2C2', 'aYear'],
      ['aYear=100&toBusinesses=200', 'toBusinesses'],
      ['kitchen=cellar', 'kitchen'],
    ]) {
      const answer = await at.web.inject(`/api/reckon/what-applies?${query}`);
      expect([answer.statusCode, answer.body]).toEqual([422, expect.stringContaining(`"${field}"`)]);
    }
  });

  test('the maker’s own authority, confirmed by telephone, is shown wherever the book says to ask', async () => {
    const missing = 'Your authority: not recorded';
    const pages = ['/cautions', '/places', '/calculators/what-applies?shop=yes'];
    for (const url of pages) expect(await page(url)).toContain(missing);
    const own = {
      authority: 'food safety office',
      authorityPhone: '802 555 0199',
      authorityAddress: '1 Statehouse Row',
    };
    const half = await posted(at, '/house', { ...house, ...own, authorityWith: 'M. Roy' }, { cookie });
    expect([half.statusCode, half.body]).toEqual([422, expect.stringContaining('the day you spoke')]);
    expect((await posted(at, '/house', { ...house, ...own }, { cookie })).statusCode).toBe(303);
    for (const url of pages) expect(await page(url)).toContain('not confirmed yet');
    const confirmed = { ...own, authorityWith: 'M. Roy', authorityOn: '2026-02-10' };
    expect((await posted(at, '/house', { ...house, ...confirmed }, { cookie })).statusCode).toBe(303);
    for (const url of pages)
      expect(await page(url)).toContain(
        'Your authority: food safety office, telephone 802 555 0199, address 1 Statehouse Row; confirmed by telephone with M. Roy on 2026-02-10.',
      );
    expect((await at.web.inject('/api/reckon/what-applies?shop=yes')).body).not.toContain('0199');
  });
});
