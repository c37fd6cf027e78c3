import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import { documentsOf, supporting } from '../support/documented-season.js';
import { sqlite } from '../support/engines.js';
import { writeContext, done, recordOrThrow } from '../support/sugarhouse.js';

const engine = sqlite();
beforeAll(() => engine.start());
afterAll(() => engine.stop());

/** What a stranger looks up on page one, knowing only the lot code of a jar. */
const questions: Readonly<Record<string, (page: string, lot: string) => string | undefined>> = {
  'which boil': (page, lot) => new RegExp(`${lot} (\\d{5}[A-Z]+) `).exec(page)?.[1],
  when: (page, lot) => new RegExp(`${lot} \\d{5}[A-Z]+ (\\d+ \\w{3}) (?:\\d+ \\w{3})`).exec(page)?.[1],
  'how hot': (page, lot) => rowOf(page, lot).match(/(\d+ F), T\d/)?.[1],
  'how dense': (page, lot) => rowOf(page, lot).match(/(\d\d\.\d) \(/)?.[1],
  'by which thermometer, and when it was checked': (page, lot) => {
    const thermometer = /\d+ F, (T\d)/.exec(rowOf(page, lot))?.[1] ?? 'none';
    return new RegExp(`${thermometer} thermometer: (\\d{4}-\\d\\d-\\d\\d ice point.*?in tolerance)`).exec(page)?.[1];
  },
  'what allergens': (page, lot) => rowOf(page, lot).match(/\b(none|milk|not recorded) \d+ \d+ /)?.[1],
  'where the rest is': (page, lot) =>
    new RegExp(`Where the jars went.*?(Millrace Green \\d+: ${lot} \\d+)`).exec(page)?.[1],
  'was anything held': (page) => /(Held now: none|HELD now[^:]*: \S+)/.exec(page)?.[1],
  'who signed': (page) =>
    /Signed by (\w+ \w+), 2026-06-20, over \d+ entries of the record; nothing was recorded since/.exec(page)?.[1],
  'whom to call': (page) => /Authority: (.*?, telephone [\d ]+\d)/.exec(page)?.[1],
};
const rowOf = (page: string, lot: string): string => page.slice(page.indexOf(lot), page.indexOf(lot) + 220);

test('a stranger with one jar answers ten questions from page one alone, within a minute', async () => {
  const book = await engine.freshBook();
  await recordOrThrow(book, 'house', {
    phone: '802 555 0100',
    authority: 'food safety office',
    authorityPhone: '802 555 0199',
  });
  for (const kind of ['gathering', 'boil']) await recordOrThrow(book, kind);
  await supporting(book, 'instruments', { id: 'T1', what: 'thermometer' });
  const ice = { instrument: 'T1', how: 'ice', should: '32 F', reads: '32.4 F', at: '2026-03-01T08:00' };
  await supporting(book, 'checks', ice);
  await recordOrThrow(book, 'pack', { fillTemps: ['186 F#T1', '188 F#T1'] });
  await recordOrThrow(book, 'dispatch', { jars: '15', to: 'Millrace Green' });
  const season = kindByName.get('season');
  if (!season) throw new Error('no season');
  const now = new Date('2026-06-20T15:00:00Z');
  done(await record(book, writeContext({ now }), season, { year: '2026', signed: 'Wren Ellery' }));
  const { pageOne } = await documentsOf(book);
  const began = performance.now();
  const answers = Object.fromEntries(
    Object.entries(questions).map(([request, look]) => [request, look(pageOne, '26077A-1')]),
  );
  expect(performance.now() - began).toBeLessThan(60_000);
  expect(answers).toEqual({
    'which boil': '26077A',
    when: '18 Mar',
    'how hot': '186 F',
    'how dense': expect.stringMatching(/^6[67]\.\d$/),
    'by which thermometer, and when it was checked':
      '2026-03-01 ice point, should read 32 F, read 32.4 F: in tolerance',
    'what allergens': 'none',
    'where the rest is': 'Millrace Green 15: 26077A-1 15',
    'was anything held': 'Held now: none',
    'who signed': 'Wren Ellery',
    'whom to call': 'food safety office, telephone 802 555 0199',
  });
});
