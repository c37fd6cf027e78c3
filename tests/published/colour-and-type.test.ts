import { describe, expect, test } from '@jest/globals';
import { colourClassOf, gradeText, parseColourClass } from '#libs/syrup/science/colour.js';
import { cylinderPanelMm2, netQuantityHeightMm } from '#libs/syrup/labelling/type-height.js';

/** 1 NYCRR 270.1; 7 M.R.S. §892-A; Canadian Grade Compendium vol. 7 (read). */
const classes = [
  { percent: 100, colour: 'Golden' },
  { percent: 75, colour: 'Golden' },
  { percent: 74.999, colour: 'Amber' },
  { percent: 50, colour: 'Amber' },
  { percent: 49.999, colour: 'Dark' },
  { percent: 25, colour: 'Dark' },
  { percent: 24.999, colour: 'Very Dark' },
  { percent: 0, colour: 'Very Dark' },
] as const;

/** 21 CFR 101.7(i), quoted from the code of 2026-09-12. */
const typeUs = [
  { squareInches: 5, sixteenths: 1 },
  { squareInches: 5.01, sixteenths: 2 },
  { squareInches: 25, sixteenths: 2 },
  { squareInches: 25.01, sixteenths: 3 },
  { squareInches: 100, sixteenths: 3 },
  { squareInches: 100.1, sixteenths: 4 },
  { squareInches: 400, sixteenths: 4 },
  { squareInches: 400.1, sixteenths: 8 },
];
/** Safe Food for Canadians Regulations Schedule 6, read as amended 2025-09-19. */
const typeCanada = [
  { squareCm: 32, millimetres: 1.6 },
  { squareCm: 32.1, millimetres: 3.2 },
  { squareCm: 258, millimetres: 3.2 },
  { squareCm: 258.1, millimetres: 6.4 },
  { squareCm: 645, millimetres: 6.4 },
  { squareCm: 645.1, millimetres: 9.5 },
  { squareCm: 2580, millimetres: 9.5 },
  { squareCm: 2580.1, millimetres: 12.7 },
];

describe('colour', () => {
  test.each(classes)('$percent % is $colour', ({ percent, colour }) => {
    expect(colourClassOf(percent)).toBe(colour);
  });
  test('has its names in the US and in both languages of Canada', () => {
    expect(gradeText('Amber', 'US')).toBe('Grade A Amber Color and Rich Taste');
    expect(gradeText('Very Dark', 'CA-fr')).toContain('Très foncé, goût prononcé');
    expect(gradeText('Golden', 'CA-en')).toContain('Golden, Delicate Taste');
  });
  test.each([
    ['Grade A Amber Color and Rich Taste', 'Amber'],
    ['golden', 'Golden'],
    ['Golden, delicate', 'Golden'],
    ['VERY DARK', 'Very Dark'],
    ['very-dark', 'Very Dark'],
    ['Très foncé, goût prononcé', 'Very Dark'],
    ['Foncé', 'Dark'],
    ['Canada Catégorie A Doré, goût délicat', 'Golden'],
    ['Ambré, goût riche', 'Amber'],
    ['Processing grade', 'processing'],
    ['processing', 'processing'],
    ['Transformation', 'processing'],
    ['not amber', undefined],
    ['brownish', undefined],
    ['', undefined],
  ])('parses %p as %p', (text, colour) => {
    expect(parseColourClass(text)).toBe(colour);
  });
  test('parses every name it writes', () => {
    for (const colour of ['Golden', 'Amber', 'Dark', 'Very Dark'] as const)
      for (const tongue of ['US', 'CA-en', 'CA-fr'] as const)
        expect(parseColourClass(gradeText(colour, tongue))).toBe(colour);
  });
});

describe('type height', () => {
  test.each(typeUs)('$squareInches in² requires $sixteenths/16 in', ({ squareInches, sixteenths }) => {
    expect(netQuantityHeightMm(squareInches * 645.16, 'US').inches).toBeCloseTo(sixteenths / 16, 9);
  });
  test.each(typeCanada)('in Canada $squareCm cm² requires $millimetres mm', ({ squareCm, millimetres }) => {
    expect(netQuantityHeightMm(squareCm * 100, 'CA').millimetres).toBe(millimetres);
  });
  test('a cylinder’s panel is 40 % of height × circumference (21 CFR 101.1)', () => {
    expect(cylinderPanelMm2(100, 50)).toBeCloseTo(0.4 * 100 * Math.PI * 50, 9);
  });
});
