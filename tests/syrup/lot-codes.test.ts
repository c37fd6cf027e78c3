import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import {
  blendCode,
  boilCode,
  nextBoilLetter,
  packCode,
  parseLotCode,
  prefixedLot,
} from '#libs/syrup/codes/lot-codes.js';

describe('the codes of boils, packs and blends', () => {
  test('a boil carries the year, the day and its letter', () => {
    expect(boilCode(2026, 77, 0)).toBe('26077A');
    expect(boilCode(2026, 7, 1)).toBe('26007B');
    expect(packCode('26077A', 1)).toBe('26077A-1');
    expect(blendCode(2026, 81, 1)).toBe('26081X-1');
  });

  test('letters go A to W without I and O, then AA, AB', () => {
    const letters: string[] = [];
    let last: string | undefined;
    for (let count = 0; count < 23; count += 1) letters.push((last = nextBoilLetter(last)));
    expect(letters.join(' ')).toBe('A B C D E F G H J K L M N P Q R S T U V W AA AB');
    expect(nextBoilLetter('AW')).toBe('BA');
    expect(nextBoilLetter('WW')).toBe('AAA');
    expect(nextBoilLetter('h')).toBe('J');
    expect(() => nextBoilLetter('X')).toThrow('X is not a boil');
    expect(() => nextBoilLetter('')).toThrow('is not a boil');
  });

  test('the next letter is the letter of the next index', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 9000 }), (index) => {
        const letters = boilCode(2026, 1, index).slice(5);
        expect(boilCode(2026, 1, index + 1)).toBe(`26001${nextBoilLetter(letters)}`);
      }),
    );
  });

  test('a written code is parsed back', () => {
    const lots = fc.record({
      year: fc.integer({ min: 2000, max: 2099 }),
      day: fc.integer({ min: 1, max: 365 }),
      index: fc.integer({ min: 0, max: 500 }),
      run: fc.integer({ min: 1, max: 9999 }),
    });
    fc.assert(
      fc.property(lots, ({ year, day, index, run }) => {
        const boil = boilCode(year, day, index);
        expect(parseLotCode(boil)).toEqual({ kind: 'boil', code: boil, year, dayOfYear: day, letters: boil.slice(5) });
        const pack = packCode(boil, run);
        expect(parseLotCode(` ${pack.toLowerCase()} `)).toEqual({
          kind: 'pack',
          code: pack,
          year,
          dayOfYear: day,
          boil,
          run,
        });
        const blend = blendCode(year, day, run);
        expect(parseLotCode(blend)).toEqual({ kind: 'blend', code: blend, year, dayOfYear: day, run });
      }),
    );
  });

  test('day 366 is valid only in a leap year', () => {
    for (let year = 2000; year < 2100; year++)
      expect([year, parseLotCode(`${String(year).slice(2)}366A`)?.dayOfYear]).toEqual([
        year,
        year % 4 === 0 ? 366 : undefined,
      ]);
    expect(parseLotCode('26366A')).toBeUndefined();
    expect(() => boilCode(2026, 366, 0)).toThrow('2026 has no day 366');
  });

  test.each([
    '26000A',
    '26367A',
    '26077',
    '26077I',
    '26077O',
    '26077Y',
    '26077XA',
    '26077X',
    '26077A-0',
    '26077A-01',
    '26077A-',
    'G041',
    '',
    '126077A',
  ])('%p is no lot code', (text) => expect(parseLotCode(text)).toBeUndefined());
});

describe('invalid codes are refused', () => {
  test.each([
    ['a day that no year has', () => blendCode(2026, 366, 1), /2026 has no day 366/],
    ['a day past a leap year', () => blendCode(2028, 367, 1), /2028 has no day 367/],
    ['day 0', () => blendCode(2026, 0, 1), /2026 has no day 0/],
    ['half a day', () => blendCode(2026, 1.5, 1), /2026 has no day 1.5/],
    ['a year before 2000', () => boilCode(1999, 77, 0), /from 2000 to 2099/],
    ['a year after 2099', () => boilCode(2100, 77, 0), /from 2000 to 2099/],
    ['half a year', () => boilCode(2026.5, 77, 0), /from 2000 to 2099/],
    ['a boil before the first', () => boilCode(2026, 77, -1), /0 or more, not -1/],
    ['half a boil', () => boilCode(2026, 77, 0.5), /0 or more, not 0.5/],
    ['run 0', () => packCode('26077A', 0), /counted from 1, not 0/],
    ['half a run', () => packCode('26077A', 1.5), /counted from 1, not 1.5/],
  ])('%s', (_, make, message) => {
    expect(make).toThrow(message);
  });

  test('the first and the last day and year are accepted', () => {
    expect([blendCode(2000, 1, 1), blendCode(2000, 366, 1)]).toEqual(['00001X-1', '00366X-1']);
    expect([blendCode(2028, 366, 1), blendCode(2099, 365, 1)]).toEqual(['28366X-1', '99365X-1']);
  });

  test('a prefix, if there is one, comes before the code', () => {
    expect([prefixedLot('', '26077A'), prefixedLot('BL', '26077A')]).toEqual(['26077A', 'BL 26077A']);
  });
});
