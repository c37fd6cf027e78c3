import { expect, test } from '@jest/globals';
import { gs1Link, jarLink, judgeAddress, textSymbol } from '#libs/labels/content/address.js';
import { undrawable } from '#libs/labels/drawing/cannot-draw.js';
import { jarRange } from '#libs/labels/layout/jar-range.js';
import { labelProblemSentences } from '#libs/labels/content/label.js';
import { packedText } from '#libs/labels/content/label-text.js';
import { missingItems, missingSentence } from '#libs/labels/content/missing-items.js';
import { netQuantity } from '#libs/labels/content/net-quantity.js';
import { symbolFor } from '#libs/labels/symbol/symbol-text.js';
import { runsOf } from '#libs/labels/drawing/type-faces.js';
import { placeRules } from '#libs/actions/places/places.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { canadian, halfPint, millilitres, ounces, refused, drawn, stockNamed } from '../support/tamarack-hollow.js';
import { openPdf, printed, readByFirst } from '../support/read-symbols.js';

const textOn = (container: typeof halfPint.container, country: 'US' | 'CA' = 'US'): string =>
  netQuantity(container, country).lines.join(' ');

test.each([
  [ounces(1.7), '1.7 FL OZ (50.2 mL)'],
  [ounces(3.4), '3.4 FL OZ (100 mL)'],
  [ounces(8), '8 FL OZ (236 mL)'],
  [ounces(12), '12 FL OZ (354 mL)'],
  [ounces(16), '16 FL OZ (1 PT) 473 mL'],
  [ounces(24), '24 FL OZ (1 PT 8 FL OZ) 709 mL'],
  [ounces(32), '32 FL OZ (1 QT) 946 mL'],
  [ounces(48), '48 FL OZ (1 QT 1 PT) 1.41 L'],
  [ounces(64), '64 FL OZ (2 QT) 1.89 L'],
  [ounces(128), '1 GAL (3.78 L)'],
  [{ typed: '1 pt', millilitres: 473.176473, unit: 'pt', amount: 1 }, '16 FL OZ (1 PT) 473 mL'],
  [{ typed: '5 gal', millilitres: 18927.05892, unit: 'gal', amount: 5 }, '5 GAL (18.9 L)'],
  [millilitres(100), '100 mL (3.38 FL OZ)'],
  [millilitres(250), '250 mL (8.45 FL OZ)'],
  [millilitres(500), '16.9 FL OZ (1 PT 0.9 FL OZ) 500 mL'],
])('%j is declared as %s', (container, formatted) => {
  expect(textOn(container)).toBe(formatted);
});

test('no conversion promises more than the container holds', () => {
  for (let amount = 0.5; amount < 700; amount += 0.5) {
    const metric = /([\d.]+) (mL|L)\b/.exec(textOn(ounces(amount)))!;
    const promised = Number(metric[1]) * (metric[2] === 'L' ? 1000 : 1);
    expect(promised).toBeLessThanOrEqual(amount * 29.5735295625 + 1e-6);
    expect(promised).toBeGreaterThan(amount * 29.5735295625 * 0.985);
  }
});

test('in Canada the net quantity is metric', () => {
  expect(textOn(millilitres(500), 'CA')).toBe('500 mL');
  expect(textOn({ typed: '4 L', millilitres: 4000, unit: 'L', amount: 4 }, 'CA')).toBe('4 L');
  expect(textOn({ typed: '1 imp gal', millilitres: 4546.09, unit: 'imp gal', amount: 1 }, 'CA')).toBe('4.54 L');
});

test('the packed date has its month in letters and says packed', () => {
  expect(packedText('2026-03-19')).toBe('Packed 19 Mar 2026');
  expect(packedText('2026-04-01T21:00:00-04:00', true)).toBe('Packaged on / Empaqueté le 2026 AL 01');
  expect(() => packedText('19/03/2026')).toThrow('2026-03-19');
});

test('items that a place requires and the label lacks are listed with their source', () => {
  const rules = placeRules('vermont');
  if (!('labels' in rules)) throw new Error('no rules of Vermont');
  const maker = { ...halfPint.maker, lines: ['9 Hollow Lane', 'Harrow Notch, Vermont 05000'] };
  const full = { ...halfPint, maker, panel: { heightMm: 90, diameterMm: 64 } };
  expect(missingItems(full, rules)).toEqual([]);
  const bare = {
    ...full,
    gradeText: null,
    allergens: null,
    maker: { name: 'Tamarack Hollow Sugarhouse', lines: ['Harrow Notch'] },
  };
  const lacks = missingItems(bare, rules).map(missingSentence);
  expect(lacks).toEqual([
    expect.stringMatching(/ZIP.*21 CFR 101\.5/),
    expect.stringMatching(/defoamer.*343\(w\).*read in the source, 2026-09-12/),
    expect.stringMatching(/colour.*6 V\.S\.A\..*secondary source/),
  ]);
  expect(missingItems(halfPint, { labels: [] })[0]!.lacks).toContain('panel');
});

test.each([
  [['9 Hollow Lane', 'Harrow Notch, Vermont 05000'], undefined],
  [['9 Hollow Lane', 'Harrow Notch VT 05000-1234'], undefined],
  [['9 Hollow Lane', 'Harrow Notch, Vermont'], 'has no ZIP code'],
  [['9 Hollow Lane', 'Harrow Notch 05000'], 'has no state'],
  [['Harrow Notch, Vermont 05000'], 'has no street'],
  [[], 'place of business is missing'],
])('in the United States the address %j: %p', (lines, says) => {
  const rules = placeRules('Michigan') as PlaceRules;
  const maker = { ...halfPint.maker, lines };
  const lacks = missingItems({ ...halfPint, maker, panel: { areaMm2: 9000 } }, rules).map(missingSentence);
  expect(lacks).toEqual(says ? [expect.stringContaining(says)] : []);
});

test('a nut that is not named by its kind is reported, and Maine’s seal on the cap is never assumed', () => {
  const maker = { ...halfPint.maker, lines: ['9 Hollow Lane', 'Harrow Notch, Vermont 05000'] };
  const content = { ...halfPint, maker, panel: { areaMm2: 9000 } };
  const formatted = (place: string, allergens: string[]) =>
    missingItems({ ...content, allergens }, placeRules(place) as PlaceRules).map(missingSentence);
  expect(formatted('Ohio', ['tree nuts'])).toEqual([expect.stringContaining('named only by its group')]);
  expect(formatted('Ohio', ['almonds (tree nuts)', 'milk'])).toEqual([]);
  expect(formatted('Maine', [])).toEqual([expect.stringMatching(/seal on the cap.*7 M\.R\.S\. § 893/)]);
});

test('Ontario requires a lot code above 125 mL only, and for both languages', () => {
  const labels = [
    { item: 'lot code', carries: 'lot-code', aboveMillilitres: 125, source: 'O. Reg. 119/11', mark: 'read' as const },
    { item: 'both languages', carries: 'bilingual', source: 'SFCR s. 206', mark: 'read' as const },
  ];
  const measured = { ...canadian, panel: { areaMm2: 9000 } };
  expect(missingItems({ ...measured, lot: '', container: millilitres(125) }, { labels })).toEqual([]);
  expect(missingItems({ ...measured, lot: '', container: millilitres(126) }, { labels })).toHaveLength(1);
  expect(missingItems({ ...measured, keepFr: undefined }, { labels })).toHaveLength(1);
});

test.each([
  [undefined, false, 'No public address'],
  ['', false, 'No public address'],
  ['boilbook', false, 'not one like'],
  ['ftp://boilbook.example', false, 'not one like'],
  ['https://boilbook.example/?a=1', false, 'question mark'],
  ['http://127.0.0.1:8066', false, 'this machine'],
  ['http://localhost', false, 'this machine'],
  ['http://[::1]:8066', false, 'this machine'],
  ['http://192.168.1.20:8066', false, 'private'],
  ['http://10.1.2.3', false, 'private'],
  ['http://172.31.0.1', false, 'private'],
  ['http://100.100.1.1', false, 'private'],
  ['http://[fd12::1]', false, 'private'],
  ['http://sugarhouse.local', false, 'own network'],
  ['http://sugarhouse', false, 'own network'],
  ['https://boilbook.example', false, 'reserved for examples'],
  ['http://172.32.0.1', true, 'not https'],
  ['https://syrup.tamarack-hollow.farm', true, ''],
  ['https://syrup.tamarack-hollow.farm/jars', true, 'lower-case letters'],
])('the public address %p is judged: lasts %p, %s', (address, lasts, says) => {
  const judged = judgeAddress(address);
  expect(judged.lasts).toBe(lasts);
  expect(judged.sentences.join(' ')).toContain(says);
  if (!lasts)
    expect(judged.sentences.join(' ')).toMatch(/can still be traced|a text symbol .*“Address that labels carry”/);
  expect(judged.address === undefined).toBe(!lasts && address !== 'https://boilbook.example');
});

test('a link is in capitals; a path that has small letters keeps them', () => {
  expect(jarLink('https://Boilbook.example:8066', 'K7QM3XWT')).toBe('HTTPS://BOILBOOK.EXAMPLE:8066/J/K7QM3XWT');
  expect(jarLink('https://boilbook.example/Hollow/', 'K7QM3XWT')).toBe('HTTPS://BOILBOOK.EXAMPLE/Hollow/J/K7QM3XWT');
});

test('a digital link has its parts in order, and a GTIN with a wrong check digit is refused', () => {
  expect(gs1Link('https://id.gs1.org', '09520123456788', 'ABC1', '12345')).toBe(
    'HTTPS://ID.GS1.ORG/01/09520123456788/10/ABC1/21/12345',
  );
  expect(gs1Link('https://boilbook.example', '036000291452', '26077A-1', 'K7QM3XWT')).toContain(
    '/01/00036000291452/10/26077A-1/21/K7QM3XWT',
  );
  expect(gs1Link('https://boilbook.example', '036000291452', 'A/B (1)', 'X')).toContain('/10/A%2FB%20%281%29/21/X');
  expect(() => gs1Link('https://boilbook.example', '416000336109', 'A', 'X')).toThrow('416000336109');
});

test('a text code uses only capitals', () => {
  const formatted = textSymbol({
    lot: '26077A-1',
    code: 'K7QM3XWT',
    packedText: 'Packed 19 Mar 2026',
    maker: 'Érablière Tamarack, Inc.',
    phone: '(802) 555-0143',
  });
  expect(formatted).toBe('LOT 26077A-1 JAR K7QM-3XWT PACKED 19 MAR 2026 ERABLIERE TAMARACK INC. 802 555-0143');
});

test('a name with rarer accents is drawn from the font file that has them; letters in no font are reported', async () => {
  expect(runsOf('Łukasz Ødegård', 'words-bold')).toEqual({
    runs: [
      { text: 'Ł', font: 'next/latin-ext/700' },
      { text: 'ukasz Ødegård', font: 'next/latin/700' },
    ],
    undrawable: [],
  });
  const content = { ...halfPint, maker: { ...halfPint.maker, name: '楓 Sugarhouse 🍁' } };
  expect(undrawable(content)).toEqual([{ field: 'Maker', characters: ['楓', '🍁'] }]);
  const { problem, bytes } = await refused({ content });
  expect(labelProblemSentences(problem)).toEqual(['Maker: the typeface has no 楓 🍁: spell it in Latin letters']);
  expect(bytes).toBe(0);
});

test('a range outside the lot is refused with the wrong number named', () => {
  expect(jarRange(24)).toEqual({ range: { from: 1, to: 24 } });
  expect(jarRange(24, 5, 5)).toEqual({ range: { from: 5, to: 5 } });
  expect(jarRange(24, 0)).toMatchObject({ problem: { field: 'From', got: '0' } });
  expect(jarRange(24, 1, 25)).toMatchObject({ problem: { field: 'To', expected: expect.stringContaining('1 to 24') } });
  expect(jarRange(24, 9, 3)).toMatchObject({ problem: { field: 'To', expected: '9 or more' } });
  expect(jarRange(24, 1.5)).toMatchObject({ problem: { field: 'From' } });
  expect(jarRange(0)).toEqual({ problem: { kind: 'no-jars' } });
});

test('without an address that phones can open, the QR code holds text, which is announced before printing', () => {
  expect(symbolFor(undefined)).toEqual({ symbol: { kind: 'text' }, sentences: judgeAddress(undefined).sentences });
  expect(symbolFor('http://192.168.1.20:8066').symbol).toEqual({ kind: 'text' });
  expect(symbolFor('https://boilbook.example', '036000291452').symbol).toMatchObject({
    kind: 'gs1',
    gtin: '036000291452',
  });
});

test('a text code without enough room leaves out the phone, then the maker, and says so; the jar code stays', async () => {
  const text = { kind: 'text' } as const;
  const small = await drawn({ symbol: text });
  expect(small.drawn.layout.notes.join('; ')).toContain('leaves out phone, as');
  const sheet = await printed(await openPdf(small.pdf), 1, 300);
  const read = await readByFirst(sheet);
  expect(read).toHaveLength(3);
  expect(new Set(read).size).toBe(3);
  const coarse = await drawn({ symbol: text, dpi: 203 });
  expect(coarse.drawn.layout.notes.join('; ')).toContain('leaves out maker and phone');
  const large = await drawn({ symbol: text, stock: stockNamed('letter-10-up-102x51') });
  expect(large.drawn.layout.notes.join('; ')).not.toContain('leaves out');
});

test('text that no rule requires makes room for a second line of address, with a note', async () => {
  const maker = { ...halfPint.maker, lines: ['9 Hollow Lane', 'Harrow Notch, Vermont 05000'] };
  const { drawn: low } = await drawn({ content: { ...halfPint, maker } });
  expect(low.layout.texts.map(({ item }) => item)).not.toContain('Keeping');
  expect(low.layout.notes).toContain('Left out, as there is no room: “Refrigerate after opening”');
  const { drawn: roomy } = await drawn({ content: { ...halfPint, maker }, stock: stockNamed('letter-10-up-102x51') });
  expect(roomy.layout.texts.map(({ item }) => item)).toContain('Keeping');
});
