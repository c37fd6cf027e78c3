import { expect, test } from '@jest/globals';
import QRCode from 'qrcode';
import { symbolChoices, symbolModules, symbolRuns, symbolSvgPath } from '#libs/labels/symbol/symbol.js';
import { maskedModules } from '#libs/labels/symbol/symbol-mask.js';
import { jarsOf } from '../support/tamarack-hollow.js';

const link = (code: string, host = 'BOILBOOK.EXAMPLE'): string => `HTTPS://${host}/J/${code}`;

test('the mask is the one that the library’s own scoring chooses, for every version and level', () => {
  const texts = jarsOf(400).flatMap(({ code }, index) => [
    link(code),
    link(code, 'B.EX'),
    link(code, `HOST-${'X'.repeat(index % 30)}.EXAMPLE`),
    `Lot 26077A-1, Érablière ${code}`,
  ]);
  let otherThanFirst = 0;
  for (const [index, text] of texts.entries()) {
    const level = (['Q', 'M', 'L'] as const)[index % 3]!;
    const symbol = QRCode.create(text, { errorCorrectionLevel: level });
    expect(maskedModules(text, { version: symbol.version, level })).toEqual(Uint8Array.from(symbol.modules.data));
    if (symbol.maskPattern !== 0) otherThanFirst++;
  }
  expect(otherThanFirst).toBeGreaterThan(1000);
});

test('a link in capitals is a smaller symbol than one in small letters', () => {
  const capitals = symbolChoices(link('K7QM3XWT'), 300)[0]!;
  const small = symbolChoices('https://boilbook.example/j/K7QM3XWT', 300)[0]!;
  expect([capitals.version, capitals.level]).toEqual([3, 'Q']);
  expect(small.version).toBeGreaterThan(capitals.version);
});

test.each([
  [203, 4, 4],
  [300, 6, 5],
  [600, 12, 10],
] as const)('at %i dpi a module is %i dots, at least %i', (dpi, good, least) => {
  const level = symbolChoices(link('K7QM3XWT'), dpi).filter((choice) => choice.level === 'Q');
  expect(level[0]!.dotsPerModule).toBe(good);
  expect(level.at(-1)!.dotsPerModule).toBe(least);
  for (const { moduleMm, dotsPerModule, sideMm, modules } of level) {
    expect(moduleMm).toBeCloseTo((dotsPerModule * 25.4) / dpi, 12);
    expect(moduleMm).toBeGreaterThanOrEqual(0.42);
    expect(sideMm).toBeCloseTo((modules + 8) * moduleMm, 12);
  }
});

test('rows of rectangles cover each dark module once and nothing else', () => {
  const choice = symbolChoices(link('K7QM3XWT'), 300)[0]!;
  const dark = symbolModules(link('K7QM3XWT'), choice);
  const covered = new Uint8Array(dark.length);
  for (const [, column, row, length] of symbolRuns(dark, choice.modules).matchAll(/(\d+) (\d+) (\d+) 1 re\n/g))
    for (let at = 0; at < Number(length); at++) covered[Number(row) * choice.modules + Number(column) + at]! += 1;
  expect(covered).toEqual(dark);
  expect(symbolSvgPath(dark, choice.modules)).toMatch(/^(M\d+ \d+h\d+v1h-\d+z)+$/);
});

test('a text too long for any QR code gives no choices', () => {
  expect(symbolChoices('X'.repeat(5000), 300)).toEqual([]);
});
