import { beforeAll, describe, expect, test } from '@jest/globals';
import { recallSuite } from '../support/recall-suite.js';

/** The notes of a pack and of its boil, where its jars are labelled and sent out. */
const here = recallSuite();
const packNote = 'Ned’s <best> pour,\n the rim wiped twice';
const boilNote = 'north wind, slow fire';
let noted = '';
let plain = '';

beforeAll(async () => {
  const gathering = await here.write('gatherings', gatheringOf('G950'));
  const boil = await here.write('boils', boilOf(gathering, boilNote));
  noted = await here.aPack(boil, { note: packNote, by: 'OE' });
  const quiet = await here.write('boils', boilOf(await here.write('gatherings', gatheringOf('G951')), ''));
  plain = await here.aPack(quiet, { note: '  ' });
  await here.send(`/lots/${noted}/labels/read`, {});
});

const gatheringOf = (id: string) => ({
  id,
  gatheredAt: '2026-03-17T16:00',
  source: 'upper lines',
  volume: '200 gal',
  sugar: '2.1 Bx',
  by: 'JP',
});
const boilOf = (gathering: string, note: string) => ({
  beganAt: '2026-03-18T07:30',
  gatherings: [`${gathering}:200 gal`],
  defoamer: 'none',
  filterTemp: '190 F',
  syrupVolume: '5 gal',
  by: 'WE',
  note,
});
/** The block of the page, without white space around elements. */
const blockOf = (html: string): string =>
  /(<details>\s*<summary>\s*<b>|<section>\s*<h2>)Notes on record(?:(?!<\/ul>)[^])*<\/ul>/u.exec(html)?.[0] ?? '';
const itemsOf = (html: string): string[] =>
  [...blockOf(html).matchAll(/<li>((?:(?!<\/li>)[^])*)<\/li>/gu)].map(([, item = '']) => item.replace(/<[^>]*>/gu, ''));

const escaped = 'Ned’s &lt;best> pour,\n the rim wiped twice';

describe.each([
  ['the labels page', (lot: string) => `/lots/${lot}/labels`],
  ['the form that sends jars out', (lot: string) => `/dispatches/new?lot=${lot}`],
])('%s', (_name, address) => {
  test('shows the notes of the pack and of its boil word by word, with lot and initials', async () => {
    const { body } = await here.open(address(noted));
    expect(itemsOf(body)).toEqual([`${noted}, OE: ${escaped}`, `${noted.replace(/-\d+$/u, '')}, WE: ${boilNote}`]);
  });

  test('shows no block where nobody wrote a note', async () => {
    const answer = await here.open(address(plain));
    expect([answer.statusCode, answer.body.includes('Notes on record')]).toEqual([200, false]);
  });
});

test('without a chosen pack the form that sends jars out shows the notes of packs with jars on hand', async () => {
  const items = itemsOf((await here.open('/dispatches/new')).body);
  expect(items).toContain(`${noted}, OE: ${escaped}`);
  expect(items).toContain(`${noted.replace(/-\d+$/u, '')}, WE: ${boilNote}`);
});

test('a refused form still shows them, and the form for returned jars does not', async () => {
  const refused = await here.send('/dispatches/new', { lot: noted, jars: '', kind: 'sale', to: '' });
  expect(refused.statusCode).toBeGreaterThanOrEqual(400);
  expect(itemsOf(refused.body)).toHaveLength(2);
  expect((await here.open(`/dispatches/new?lot=${noted}&kind=returned`)).body).not.toContain('Notes on record');
});

test('long notes are folded under their number', async () => {
  const boil = await here.write('boils', boilOf(await here.write('gatherings', gatheringOf('G952')), boilNote));
  const long = await here.aPack(boil, { note: 'the kids counted the jars and lost count again '.repeat(6) });
  expect(blockOf((await here.open(`/lots/${long}/labels`)).body)).toMatch(/^<details>.*Notes on record<\/b> \(2\)/su);
});
