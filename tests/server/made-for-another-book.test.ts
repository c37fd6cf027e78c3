import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { readHead } from '#libs/store/log/log.js';
import { makeCooperative, member, password } from '../support/cooperative.js';
import { startServer, type TestServer, originOn, posted, signedIn } from '../support/server.js';

/** A form drawn for one book, house or person and sent while another is open: nothing is written, nothing is lost. */
let at: TestServer;
const cookies: Record<string, string> = {};

beforeAll(async () => {
  at = await startServer();
  at.clock.now = new Date('2026-05-01T22:00:00Z');
  await makeCooperative(at);
  for (const initials of ['WE', 'OE', 'JP']) cookies[initials] = await signedIn(at, initials, password);
  await addPerson(at.book, member, { initials: 'WE', name: 'Wren', role: 'maker', password });
  const there = await posted(at, '/sign-in', { house: member, initials: 'WE', password });
  cookies['WE at Bracken Lane'] = there.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
  const practice = await posted(at, '/practice', {}, { cookie: cookies['WE'] ?? '' });
  cookies['practice'] = practice.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
}, 60_000);
afterAll(() => at.close());

const typed = { source: 'North slope, buckets', volume: '80', 'volume~unit': 'gal', 'gatheredAt~ago': '20' };
let n = 0;
const gather = async (drawnFor: string, sentBy: string, more: Record<string, string> = {}) => {
  const origin = await originOn(at, cookies[drawnFor] ?? '');
  expect(Object.keys(origin)).toEqual(['_book', '_house', '_person']);
  return posted(
    at,
    '/sap/gather',
    { ...origin, _once: `gather-${n++}`, ...typed, ...more },
    { cookie: cookies[sentBy] ?? '' },
  );
};
const entries = async (): Promise<number[]> => [
  (await readHead(at.book.read)).entries,
  (await readHead((await at.server.practice()).read)).entries,
];

test('a form is accepted in the book it was drawn for: the record, or practice', async () => {
  const before = await entries();
  expect((await gather('OE', 'OE')).statusCode).toBe(303);
  expect((await gather('practice', 'practice')).statusCode).toBe(303);
  expect(await entries()).toEqual(before.map((each) => each + 1));
});

test.each([
  ['practice', 'WE', 'the practice book', 'the record book of Tamarack Hollow Sugarhouse, as WE'],
  ['WE', 'practice', 'the record book of Tamarack Hollow Sugarhouse, as WE', 'the practice book'],
  ['WE at Bracken Lane', 'WE', 'the record book of Bracken Lane Sugarbush, as WE', 'Tamarack Hollow Sugarhouse, as WE'],
  ['WE', 'OE', 'the record book of Tamarack Hollow Sugarhouse, as WE', 'Tamarack Hollow Sugarhouse, as OE'],
])(
  'a form drawn for %s and sent by %s is refused with 409, and the page shows both books and what was typed',
  async (drawnFor, sentBy, made, open) => {
    const before = await entries();
    const answer = await gather(drawnFor, sentBy);
    expect([answer.statusCode, answer.headers['boilbook-other-book']]).toEqual([409, 'yes']);
    expect(answer.body).toContain(`This entry was made for ${made}`);
    expect(answer.body.slice(answer.body.indexOf('Open now is'))).toContain(open);
    expect(answer.body).toContain('North slope, buckets');
    expect(answer.body).toContain('80 gal');
    expect(await entries()).toEqual(before);
  },
);

test('the refusing page can send the entry where it belongs, once, with its original time', async () => {
  const refused = await gather('WE', 'OE', { source: 'Far <b>"bush"</b>' });
  const inputs = [...refused.body.matchAll(/<input type="hidden" name="([^"]*)" value="([^"]*)"/g)];
  const text = (value: string): string =>
    value
      .replace(/&quot;/g, '"')
      .replace(/&lt;/g, '<')
      .replace(/&gt;/g, '>')
      .replace(/&amp;/g, '&');
  const fields = Object.fromEntries(inputs.map((each) => [each[1] ?? '', text(each[2] ?? '')]));
  const before = await entries();
  at.clock.now = new Date(at.clock.now.getTime() + 3_600_000);
  for (const cookie of [cookies['JP'], cookies['WE'], cookies['WE']])
    await posted(at, '/sap/gather', fields, { cookie: cookie ?? '' });
  expect(await entries()).toEqual([(before[0] ?? 0) + 1, before[1]]);
  const [saved] = await at.book.read.rows<{ typed: string; at_utc: string; by: string }>`SELECT typed, at_utc, "by"
    FROM record WHERE kind = 'gathering' ORDER BY first_seq DESC LIMIT 1`;
  expect(saved?.typed).toContain('Far <b>\\"bush\\"</b>');
  expect([saved?.by, saved?.at_utc]).toEqual(['WE', expect.stringContaining('2026-05-01T21:40:00')]);
});

test('a form of an older page without its book is not written, but shown with a question', async () => {
  const before = await entries();
  const answer = await at.web.inject({
    method: 'POST',
    url: '/sap/gather',
    payload: new URLSearchParams({ _once: 'of-an-older-page', ...typed }).toString(),
    headers: {
      'content-type': 'application/x-www-form-urlencoded',
      origin: 'http://localhost',
      cookie: cookies['OE'] ?? '',
    },
  });
  expect(answer.statusCode).toBe(409);
  expect(answer.body).toContain('did not note for which book');
  expect(answer.body).toContain('Save it in the record book of Tamarack Hollow Sugarhouse, as OE');
  expect(await entries()).toEqual(before);
});

test('a form with a forged or missing hidden field is refused as well', async () => {
  const before = await entries();
  for (const more of [{ _book: 'record' }, { _book: 'record.home' }, { _house: 'bracken-lane' }, { _person: '' }])
    expect([more, (await gather('OE', 'OE', more)).statusCode]).toEqual([more, 409]);
  expect(await entries()).toEqual(before);
});

test('a page drawn for somebody else still signs out and opens practice, and no password is shown again', async () => {
  const origin = await originOn(at, cookies['practice'] ?? '');
  const cookie = await signedIn(at, 'OE', password);
  const changed = await posted(
    at,
    '/account/password',
    { ...origin, _once: 'p', old: password, password: 'drip drip drip drip' },
    { cookie },
  );
  expect(changed.statusCode).toBe(409);
  expect(changed.body).not.toContain('drip drip');
  const out = await posted(at, '/sign-out', { ...origin, _once: 'out' }, { cookie });
  expect([out.statusCode, out.headers.location]).toEqual([303, '/sign-in']);
});

test('every form that posts carries the book, the house and the person, on every page', async () => {
  const pages = at.routes.filter(
    ({ method, path }) => method === 'GET' && !/[:*]/.test(path) && !path.startsWith('/api'),
  );
  let forms = 0;
  for (const { path } of pages) {
    const { body } = await at.web.inject({ url: path, headers: { cookie: cookies['WE'] ?? '' } });
    for (const form of body.matchAll(/<form\b[^>]*method="post"[^>]*>[^]*?<\/form>/g)) {
      forms++;
      const names = [...form[0].matchAll(/name="(_book|_house|_person)"/g)].map((each) => each[1]);
      expect([path, names]).toEqual([path, ['_book', '_house', '_person']]);
    }
  }
  expect(forms).toBeGreaterThan(20);
});
