import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { judgeBoilRecord, type BoilRecord } from '#libs/syrup/rules/judge-boil-record.js';
import { judgeSugar, type BoilSugar } from '#libs/syrup/contents/judge-sugar.js';
import { parseDensity } from '#libs/syrup/quantities/quantities.js';

const gallons = (amount: number): number => amount * 3785.411784;
const bx = (typed: string) => parseDensity(typed).value!;
/** 120 gal of sap at 2.1 °Bx, which is about 2.9 gal of syrup. */
const boil: BoilSugar = {
  lot: '26077A',
  inputs: [{ millilitres: gallons(120), sugar: bx('2.1 Bx'), bought: false }],
  sweetCarriedIn: false,
  syrupMl: gallons(3),
  leastBrix: 66,
  litres: false,
};
const held = (but: Partial<BoilSugar>): boolean => judgeSugar({ ...boil, ...but }).length > 0;
const sap = (amount: number, sugar?: string, bought = false) => ({
  millilitres: gallons(amount),
  bought,
  ...(sugar ? { sugar: bx(sugar) } : {}),
});

describe('more sugar in the syrup than came in', () => {
  test('90 gal of syrup from 120 gal of sap raises a question, whether its sugar was read or not', () => {
    const [finding] = judgeSugar({ ...boil, syrupMl: gallons(90) });
    expect(finding).toMatchObject({
      rule: 'more-sugar-than-came-in',
      stop: true,
      found:
        'boil 26077A: 90 gal of syrup from 120 gal of sap at 2.1 °Bx. Was partly boiled syrup left in the pans from the last boil, or is one of the amounts wrong?',
      limit: expect.stringMatching(/^no more than 3\.49 gal of syrup from 120 gal of sap at 2\.1 °Bx: /),
      wayOut: expect.stringMatching(/^Add the syrup left in the pans from the last boil/),
    });
    expect(held({ syrupMl: gallons(90), inputs: [sap(120)] })).toBe(true);
    expect(held({ syrupMl: gallons(90), inputs: [], sapMl: gallons(120) })).toBe(true);
    expect(judgeSugar({ ...boil, syrupMl: 340_000, litres: true })[0]?.found).toContain('340 L of syrup from 454.25 L');
  });

  test('20 % more is still within measuring error', () => {
    expect(held({ syrupMl: gallons(3.4) })).toBe(false);
    expect(held({ syrupMl: gallons(3.6) })).toBe(true);
  });

  test.each<[string, Partial<BoilSugar>]>([
    ['sweet left in the pans, which may be any amount', { sweetCarriedIn: true }],
    ['a boil that is going', { syrupMl: undefined }],
    ['no sap at all, which is asked about elsewhere', { inputs: [] }],
    ['bought syrup whose density was not read', { inputs: [sap(120, '2.1 Bx'), sap(10, undefined, true)] }],
    ['sap of which nobody knows how much', { inputs: [{ millilitres: 0, sugar: bx('2.1 Bx'), bought: false }] }],
  ])('is not judged with %s', (_, but) => expect(held({ syrupMl: gallons(90), ...but })).toBe(false));

  test.each<[string, Partial<BoilSugar>]>([
    ['sap whose sugar was not read, concentrated or not', { inputs: [sap(120)], syrupMl: gallons(40) }],
    ['some sap read and some not', { inputs: [sap(60, '2 Bx'), sap(60)], syrupMl: gallons(20) }],
    ['more sap boiled than its gatherings, the rest unread', { sapMl: gallons(160), syrupMl: gallons(10) }],
    ['concentrate', { sapSugar: bx('22 Bx'), syrupMl: gallons(30) }],
    ['the sweeter of two readings', { sapSugar: bx('4 Bx'), syrupMl: gallons(6) }],
    ['bought syrup boiled again', { inputs: [sap(120, '2.1 Bx'), sap(10, '66 Bx', true)], syrupMl: gallons(12.5) }],
    ['the sap of the whole boil', { inputs: [], sapMl: gallons(200), sapSugar: bx('2 Bx'), syrupMl: gallons(5) }],
  ])('accepts %s', (_, but) => expect(held(but)).toBe(false));

  test('more sap, sweeter sap or less syrup never causes a hold', () => {
    const amounts = fc.record({
      volume: fc.double({ min: 1, max: 500, noNaN: true }),
      sugar: fc.double({ min: 0.5, max: 30, noNaN: true }),
      syrup: fc.double({ min: 0.1, max: 200, noNaN: true }),
      more: fc.double({ min: 1, max: 3, noNaN: true }),
    });
    fc.assert(
      fc.property(amounts, ({ volume, sugar, syrup, more }) => {
        const of = (millilitres: number, brix: number, syrupMl: number): boolean =>
          held({ inputs: [{ millilitres, sugar: bx(`${brix} Bx`), bought: false }], syrupMl });
        if (of(volume, sugar, syrup)) return;
        expect(of(volume * more, sugar, syrup)).toBe(false);
        expect(of(volume, sugar * more, syrup)).toBe(false);
        expect(of(volume, sugar, syrup / more)).toBe(false);
      }),
    );
  });
});

describe('questions raised by a boil’s record', () => {
  const began = Date.UTC(2026, 2, 18, 7, 30);
  const hour = 3_600_000;
  const record: BoilRecord = {
    lot: '26077A',
    beganMs: began,
    finishedMs: began + 12 * hour,
    sugars: [{ of: 'G001', sugar: bx('2.1 Bx') }],
    isSapRecorded: true,
    syrupMl: gallons(3),
  };
  const request = (but: Partial<BoilRecord>) => judgeBoilRecord({ ...record, ...but });

  test('none for an ordinary boil, or one in progress', () => {
    expect(request({})).toEqual([]);
    expect(request({ finishedMs: undefined, syrupMl: undefined, isSapRecorded: false })).toEqual([]);
  });

  test.each<[string, Partial<BoilRecord>, string, RegExp]>([
    [
      '40 h',
      { finishedMs: began + 40 * hour },
      'boil-hours',
      /^boil 26077A: 40 h from its beginning.*both times right/,
    ],
    ['20 min', { finishedMs: began + hour / 3 }, 'boil-hours', /20 min from its beginning/],
    [
      'sap of 22 °Bx',
      { sugars: [{ of: 'G001', sugar: bx('22 Bx') }] },
      'sap-very-sweet',
      /^G001: .*concentrated by a membrane\?/,
    ],
    ['no sap at all', { isSapRecorded: false }, 'no-sap-recorded', /syrup is recorded, and no sap/],
  ])('an advisory about %s, but no hold', (_, but, rule, says) => {
    expect(request(but)).toMatchObject([{ rule, stop: false, found: expect.stringMatching(says) }]);
  });
});
