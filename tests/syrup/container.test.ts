import { describe, expect, test } from '@jest/globals';
import { isBulk, parseContainer, needsPreheating } from '#libs/syrup/quantities/container.js';

const container = (text: string) => parseContainer(text).value!;

describe('a container is text, kind and volume', () => {
  test.each([
    ['glass jar 8 fl oz', 'glass', 'glass jar', 236.5882365],
    ['plastic jug 32 fl oz', 'plastic', 'plastic jug', 946.352946],
    ['metal can 500 mL', 'metal', 'metal can', 500],
    ['drum 40 gal', 'other', 'drum', 151416.47136],
    ['Glass Jars 1 PT', 'glass', 'Glass Jars', 473.176473],
    ['plastic jar 250ml', 'plastic', 'plastic jar', 250],
    ['maple-leaf tin, 540 mL', 'metal', 'maple-leaf tin', 540],
    ['pot de verre 250 mL', 'glass', 'pot de verre', 250],
    ['jar 1 qt', 'glass', 'jar', 946.352946],
    ['steel drum 10 imp gal', 'metal', 'steel drum', 45460.9],
    ['glass flask 0,5 L', 'glass', 'glass flask', 500],
  ])('%s', (text, material, kind, millilitres) => {
    expect(container(text)).toMatchObject({ typed: text, material, kind });
    expect(container(text).volume.millilitres).toBeCloseTo(millilitres, 6);
  });

  test.each([
    '',
    '8 fl oz',
    'glass jar',
    'glass jar 8',
    'glass jar 1/2 pt',
    'glass jar 1,200 mL',
    'glass jar -8 fl oz',
    'glass jar 0 mL',
    'jar 8 hogsheads',
  ])('%p is refused with what was expected and what arrived', (text) => {
    const { mismatch } = parseContainer(text);
    expect(mismatch?.expected).toMatch(/^a container and its volume like glass jar 8 fl oz or metal can 500 mL/);
    expect(mismatch?.got).toBe(text === '' ? 'nothing' : `"${text}"`);
  });

  test('a bare gallon in a Canadian book asks which one', () => {
    const canadian = { bareGallons: 'refused' } as const;
    expect(parseContainer('drum 40 gal', canadian).mismatch?.expected).toMatch(/write US or imp/);
    expect(parseContainer('drum 40 imp gal', canadian).value?.volume.unit).toBe('imp gal');
    expect(parseContainer('jar 250 mL', canadian).value?.volume.millilitres).toBe(250);
  });

  test('five gallons and over is bulk, in either unit', () => {
    expect(['pail 5 gal', 'pail 18.9 L', 'drum 40 gal'].map((text) => isBulk(container(text)))).toEqual([
      true,
      true,
      true,
    ]);
    expect(['jug 4.9 gal', 'jug 1 gal', 'jar 18.5 L'].map((text) => isBulk(container(text)))).toEqual([
      false,
      false,
      false,
    ]);
  });

  test('glass and cans are warmed first, plastic and drums are not', () => {
    expect(
      ['glass jar 8 fl oz', 'metal can 500 mL', 'tin 540 mL'].map((text) => needsPreheating(container(text))),
    ).toEqual([true, true, true]);
    expect(
      ['plastic jug 1 qt', 'steel drum 40 gal', 'pouch 250 mL'].map((text) => needsPreheating(container(text))),
    ).toEqual([false, false, false]);
  });
});

test.each([
  ['half pint', '', '8 fl oz', 'other'],
  ['8 oz mason jar', 'mason jar', '8 fl oz', 'glass'],
  ['quart', '', '1 qt', 'other'],
  ['glass jar half pint', 'glass jar', '8 fl oz', 'glass'],
  ['plastic jug half gallon', 'plastic jug', '0.5 gal', 'plastic'],
  ['1/2 pint jar', 'jar', '8 fl oz', 'glass'],
  ['glass bottle 12 oz', 'glass bottle', '12 fl oz', 'glass'],
  ['500 mL glass bottle', 'glass bottle', '500 mL', 'glass'],
  ['pint mason jar', 'mason jar', '1 pt', 'glass'],
])('%s is understood as people write it', (typed, kind, volume, material) => {
  const parsed = parseContainer(typed);
  expect(parsed.value).toMatchObject({ typed, kind, material, volume: { typed: volume } });
});

test('an ambiguous size, or text that is no size, is refused with a question', () => {
  for (const typed of ['pint quart', 'mason jar', '8', '8 oz', '1/3 pint', '10 or 12 oz jar'])
    expect(parseContainer(typed).mismatch).toBeDefined();
  expect(parseContainer('quart', { bareGallons: 'refused' }).mismatch?.expected).toContain('write US or imp');
});
