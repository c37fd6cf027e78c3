import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import {
  celsiusOf,
  fahrenheitOf,
  parseDensity,
  parseElevation,
  parseLength,
  parseMass,
  parsePercent,
  parsePressure,
  parseTemperature,
  parseVolume,
} from '#libs/syrup/quantities/quantities.js';
import { gramsIn, millilitresIn } from '#libs/syrup/quantities/units.js';
import { parseArea } from '#libs/syrup/labelling/panel-area.js';

const canadian = { bareGallons: 'refused' } as const;

describe('temperatures', () => {
  test.each([
    ['186 F', 'F', 186, 85.5556],
    ['186°F', 'F', 186, 85.5556],
    ['85.5C', 'C', 85.5, 85.5],
    ['85,5 °c', 'C', 85.5, 85.5],
    ['-4 F', 'F', -4, -20],
    ['−4 F', 'F', -4, -20],
    ['+32 f', 'F', 32, 0],
    [' 212 ° F ', 'F', 212, 100],
    ['186 º F', 'F', 186, 85.5556],
    ['186 degF', 'F', 186, 85.5556],
    ['.5 C', 'C', 0.5, 0.5],
  ])('%p', (text, unit, degrees, celsius) => {
    const { value } = parseTemperature(text);
    expect(value).toMatchObject({ typed: text.trim(), unit, degrees });
    expect(value?.celsius).toBeCloseTo(celsius, 3);
  });

  test.each([
    ['186', '"186"'],
    ['', 'nothing'],
    ['   ', 'nothing'],
    ['F', '"F"'],
    ['186 K', '"186 K"'],
    ['hot', '"hot"'],
    ['186 F F', '"186 F F"'],
    ['1e2 F', '"1e2 F"'],
    ['18 6 F', '"18 6 F"'],
    ['1,860 F', '"1,860 F"'],
    ['186 gal', '"186 gal"'],
    ['NaN F', '"NaN F"'],
    ['Infinity F', '"Infinity F"'],
  ])('%p is refused with what was expected and what arrived', (text, got) =>
    expect(parseTemperature(text)).toEqual({ mismatch: { expected: 'a temperature like 186 F or 85.5 C', got } }),
  );

  test('a temperature that no pan can have is refused', () => {
    expect(parseTemperature('1860 F').mismatch?.expected).toBe(
      'a temperature like 186 F or 85.5 C, between -60 C and 400 C',
    );
    expect(parseTemperature('-61 C').mismatch).toBeDefined();
  });

  test('82 °C stays 82 and 180 °F stays 180: nothing is rounded or converted away', () => {
    fc.assert(
      fc.property(fc.integer({ min: -500, max: 7000 }), fc.constantFrom('F', 'C'), (tenths, unit) => {
        const degrees = unit === 'F' ? tenths / 10 : tenths / 20;
        expect(parseTemperature(`${degrees} ${unit}`).value?.degrees).toBe(degrees);
      }),
    );
  });

  test('°F to °C and back', () => {
    fc.assert(
      fc.property(fc.double({ min: -80, max: 700, noNaN: true }), (degrees) =>
        expect(fahrenheitOf(celsiusOf(degrees))).toBeCloseTo(degrees, 9),
      ),
    );
  });
});

describe('volumes', () => {
  // NIST Handbook 44, appendix C: the US gallon is 231 in³, the imperial gallon 4.54609 L, exactly.
  test.each([
    ['12.5 gal', 'gal', 47317.6473],
    ['3 qt', 'qt', 2839.058838],
    ['1 pt', 'pt', 473.176473],
    ['8 fl oz', 'fl oz', 236.5882365],
    ['8 FL. OZ.', 'fl oz', 236.5882365],
    ['8floz', 'fl oz', 236.5882365],
    ['10 imp gal', 'imp gal', 45460.9],
    ['10 US gal', 'gal', 37854.11784],
    ['10 gal imp', 'imp gal', 45460.9],
    ['1 imp fl oz', 'imp fl oz', 28.4130625],
    ['40 L', 'L', 40000],
    ['250 mL', 'mL', 250],
    ['250ml', 'mL', 250],
    ['2,5 gal', 'gal', 9463.52946],
    ['0,75 litres', 'L', 750],
    ['3 quarts', 'qt', 2839.058838],
  ])('%p', (text, unit, millilitres) => {
    const { value } = parseVolume(text);
    expect(value).toMatchObject({ typed: text, unit });
    expect(value?.millilitres).toBeCloseTo(millilitres, 6);
  });

  test('a comma before exactly three digits is ambiguous, so it is refused', () => {
    for (const text of ['1,200 gal', '1,200 mL', '0,125 gal'])
      expect(parseVolume(text).mismatch?.got).toBe(`"${text}"`);
    expect(parseVolume('1,25 L').value?.millilitres).toBe(1250);
    expect(parseVolume('1,2000 L').value?.millilitres).toBe(1200);
    expect(parseVolume('1200 gal').value?.amount).toBe(1200);
  });

  test.each(['gal', 'qt', 'pt', 'fl oz', 'gallons', 'quarts'])(
    'a bare %s in a Canadian book asks which one',
    (unit) => {
      expect(parseVolume(`4 ${unit}`, canadian).mismatch).toEqual({
        expected:
          'a volume like 40 L, 250 mL, 10 imp gal or 12.5 US gal (a bare gal, qt, pt or fl oz could be either: write US or imp)',
        got: `"4 ${unit}"`,
      });
    },
  );

  test('litres and marked gallons are accepted there, with the kind of gallon', () => {
    expect(parseVolume('4 US gal', canadian).value).toMatchObject({ unit: 'gal', typed: '4 US gal' });
    expect(parseVolume('4 imp gal', canadian).value?.millilitres).toBeCloseTo(18184.36, 6);
    expect(parseVolume('4 imp pt', canadian).value?.unit).toBe('imp pt');
    expect(parseVolume('40 L', canadian).value?.millilitres).toBe(40000);
  });

  test.each(['4', '', '-4 gal', '4 F', '4 gal 2 qt', '99999999 gal', '4 hogsheads'])('%p is refused', (text) =>
    expect(parseVolume(text).mismatch?.expected).toMatch(
      /^a volume like 12\.5 gal, 3 qt, 1 pt, 8 fl oz, 10 imp gal, 40 L or 250 mL/,
    ),
  );

  test('a gallon is four quarts, eight pints, 128 US or 160 imperial fluid ounces', () => {
    expect(
      [4 * millilitresIn.qt, 8 * millilitresIn.pt, 128 * millilitresIn['fl oz']].map((ml) => ml / millilitresIn.gal),
    ).toEqual([1, 1, 1]);
    expect([4 * millilitresIn['imp qt'], 8 * millilitresIn['imp pt'], 160 * millilitresIn['imp fl oz']]).toEqual([
      4546.09, 4546.09, 4546.09,
    ]);
  });
});

describe('densities', () => {
  test.each([
    ['66.9 Bx', 'Bx', 66.9],
    ['66.9°Bx', 'Bx', 66.9],
    ['66,9 brix', 'Bx', 66.9],
    ['36 Be', 'Be', 36],
    ['36 °Bé', 'Be', 36],
    ['36 baumé', 'Be', 36],
    ['1.328 SG', 'SG', 1.328],
    ['0 Bx', 'Bx', 0],
  ])('%p', (text, scale, reading) => expect(parseDensity(text).value).toEqual({ typed: text, scale, reading }));

  test.each(['66.9', '66.9 %', '', 'Bx', '1.328', '66,900 Bx'])('%p is refused', (text) =>
    expect(parseDensity(text).mismatch?.expected).toBe('a density like 66.9 Bx, 36 Be or 1.328 SG'),
  );
  test('a value that no hydrometer shows is refused', () => {
    expect(parseDensity('669 Bx').mismatch?.expected).toBe(
      'a density like 66.9 Bx, 36 Be or 1.328 SG, between 0 and 95 Bx',
    );
    expect(parseDensity('13.28 SG').mismatch?.expected).toMatch(/between 0\.9 and 1\.6 SG$/);
    expect(parseDensity('-1 Bx').mismatch).toBeDefined();
  });
});

describe('pressure, elevation, length, weight and percentages', () => {
  test('pressure is station pressure', () => {
    expect(parsePressure('29.4 inHg').value?.kilopascals).toBeCloseTo(99.5598, 3);
    expect(parsePressure('98.2 kPa').value?.kilopascals).toBe(98.2);
    expect(parsePressure('982 hPa').value?.kilopascals).toBeCloseTo(98.2, 9);
    expect(parsePressure('29.4 psi').mismatch).toEqual({
      expected: 'a station pressure like 29.4 inHg, 98.2 kPa or 982 hPa',
      got: '"29.4 psi"',
    });
    expect(parsePressure('982 kPa').mismatch?.expected).toMatch(/between 40 and 115 kPa$/);
  });
  test('elevation in feet or metres, below the sea too', () => {
    expect(parseElevation('1400 ft').value?.millimetres).toBeCloseTo(426_720, 6);
    expect(parseElevation('430 m').value?.millimetres).toBe(430_000);
    expect(parseElevation('-20 m').value?.millimetres).toBe(-20_000);
    expect(parseElevation('430 mm').mismatch?.got).toBe('"430 mm"');
    expect(parseElevation('7000 m').mismatch?.expected).toMatch(/between -500 m and 6000 m$/);
  });
  test('length', () => {
    expect(parseLength('3.5 in').value?.millimetres).toBeCloseTo(88.9, 9);
    expect(parseLength('3.5"').value?.millimetres).toBeCloseTo(88.9, 9);
    expect(parseLength('64 mm').value).toEqual({ typed: '64 mm', millimetres: 64 });
    expect(parseLength('-64 mm').mismatch).toEqual({ expected: 'a length like 3.5 in or 64 mm', got: '"-64 mm"' });
  });
  test('weight, the pound being 453.59237 g', () => {
    expect(parseMass('11.03 lb').value?.grams).toBeCloseTo(5003.1238, 3);
    expect(parseMass('313 g').value).toEqual({ typed: '313 g', unit: 'g', grams: 313 });
    expect(parseMass('1,2 kg').value?.grams).toBe(1200);
    expect(parseMass('16 oz').value?.grams).toBeCloseTo(gramsIn.lb, 9);
    expect(parseMass('313').mismatch?.expected).toBe('a weight like 11.03 lb, 12 oz, 313 g or 1.2 kg');
  });
  test('percentages run from 0 to 100', () => {
    expect(parsePercent('61 %').value).toEqual({ typed: '61 %', percent: 61 });
    expect(parsePercent('74,9%').value?.percent).toBe(74.9);
    expect(parsePercent('100 %').value?.percent).toBe(100);
    for (const text of ['61', '101 %', '-1 %', '', '61 F'])
      expect(parsePercent(text).mismatch?.expected).toBe('a percentage like 61 %, from 0 to 100');
  });
});

test('no text makes any parser throw, and each returns either a value or a fault', () => {
  const parsers = [
    parseTemperature,
    parseVolume,
    parseDensity,
    parsePressure,
    parseElevation,
    parseLength,
    parseMass,
    parsePercent,
  ];
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 20 }), fc.constantFrom(...parsers), (text, parse) => {
      const parsed = parse(text);
      expect((parsed.value === undefined) !== (parsed.mismatch === undefined)).toBe(true);
    }),
    { numRuns: 2000 },
  );
});

test.each(['constructor', '__proto__', 'toString', 'Constructor'])(
  '%s is no unit, though every object inherits it',
  (unit) => {
    for (const parse of [
      parseTemperature,
      parseVolume,
      parseDensity,
      parsePressure,
      parseLength,
      parseElevation,
      parseMass,
      parsePercent,
      parseArea,
    ])
      expect(parse(`186 ${unit}`).mismatch).toBeDefined();
  },
);
