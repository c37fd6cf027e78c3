import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import {
  isGtin,
  jarAlphabet,
  jarCodeFrom,
  mod37Check,
  printedJarCode,
  readJarCode,
} from '#libs/syrup/codes/jar-codes.js';

const bodies = fc.uint8Array({ minLength: 7, maxLength: 7 });
const codes = bodies.map(jarCodeFrom).filter((code) => code !== undefined);

describe('a jar’s own code', () => {
  // ISO/IEC 7064 MOD 37-2 as published with its examples.
  test('the check letter agrees with the published examples', () => {
    expect(mod37Check('G123498654321')).toBe('H');
    expect(mod37Check('A999915000001')).toBe('M');
    expect(mod37Check('a')).toBeUndefined();
    expect(mod37Check('*')).toBeUndefined();
  });

  test('the alphabet has 32 letters and none that is easily misread', () => {
    expect(new Set(jarAlphabet).size).toBe(32);
    expect(jarAlphabet).not.toMatch(/[ILOU]/);
  });

  test('bytes whose check letter is outside the alphabet give no code, about 5 of 37 of them', () => {
    let none = 0;
    const draws = 37_000;
    for (let draw = 0; draw < draws; draw += 1) {
      const bytes = Uint8Array.from({ length: 7 }, (_, place) => Math.floor(draw / 32 ** place) + 13 * place);
      if (jarCodeFrom(bytes) === undefined) none += 1;
    }
    expect(none / draws).toBeGreaterThan(4.5 / 37);
    expect(none / draws).toBeLessThan(5.5 / 37);
    expect(() => jarCodeFrom(new Uint8Array(6))).toThrow('needs 7 bytes, not 6');
  });

  test('a printed code reads back in any case, with and without the dash, I and L as 1, O as 0', () => {
    fc.assert(
      fc.property(codes, (code) => {
        const printed = printedJarCode(code);
        expect(printed).toMatch(/^[0-9A-Z]{4}-[0-9A-Z]{4}$/);
        const misread = code.replace(/0/g, 'o').replace(/1/g, 'l');
        for (const typed of [
          code,
          printed,
          printed.toLowerCase(),
          ` ${code.slice(0, 3)} ${code.slice(3)} `,
          misread,
          code.replace(/1/g, 'I'),
        ])
          expect(readJarCode(typed)).toBe(code);
      }),
    );
  });

  test('one wrong letter is always caught', () => {
    fc.assert(
      fc.property(codes, fc.nat(7), fc.integer({ min: 1, max: 31 }), (code, place, shift) => {
        const wrong = jarAlphabet.charAt((jarAlphabet.indexOf(code.charAt(place)) + shift) % 32);
        expect(readJarCode(code.slice(0, place) + wrong + code.slice(place + 1))).toBeUndefined();
      }),
      { numRuns: 2000 },
    );
  });

  test('two neighbours swapped are always caught', () => {
    fc.assert(
      fc.property(codes, fc.nat(6), (code, place) => {
        fc.pre(code[place] !== code[place + 1]);
        const swapped = code.slice(0, place) + code.charAt(place + 1) + code.charAt(place) + code.slice(place + 2);
        expect(readJarCode(swapped)).toBeUndefined();
      }),
      { numRuns: 2000 },
    );
  });

  test.each(['', 'K7QM', 'K7QM-3XWTT', 'K7QM-3XU0', '********', 'ÄÖÜ12345'])('%p is no jar code', (text) =>
    expect(readJarCode(text)).toBeUndefined(),
  );
});

describe('trade item numbers', () => {
  // GS1 General Specifications, examples of its syntax engine.
  test.each(['09520123456788', '036000291452', '00614141123452'])('%s has a valid check digit', (text) =>
    expect(isGtin(text)).toBe(true),
  );
  test.each(['416000336109', '0952012345678', '', '0360002914 2', '123'])('%p has not', (text) =>
    expect(isGtin(text)).toBe(false),
  );
});
