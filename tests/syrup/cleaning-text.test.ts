import { describe, expect, test } from '@jest/globals';
import { dangerousMixture, isUnrinsed, cleansAllPans, waterFailed } from '#libs/syrup/free-text/cleaning-text.js';

describe('text about a cleaning or a water test', () => {
  test.each(['no', 'No.', 'not rinsed', 'not yet', 'unrinsed', 'non', 'pas rincé', 'forgot to rinse', 'never'])(
    '“%s” is not rinsed',
    (text) => expect(isUnrinsed('', text)).toBe(true),
  );
  test.each([
    '',
    'clean water, three times',
    'hot water',
    'yes, no smell left',
    'eau claire, trois fois',
    'well water',
  ])('“%s” is rinsed, or says nothing about rinsing', (text) => expect(isUnrinsed('', text)).toBe(false));
  test('the answer no counts whatever the text says', () => {
    expect(isUnrinsed('no', 'clean water')).toBe(true);
    expect(isUnrinsed('yes', 'not rinsed')).toBe(true);
    expect(isUnrinsed('yes', 'clean water')).toBe(false);
  });

  test.each([
    ['vinegar, then bleach', 'acid'],
    ['Bleach and vinegar', 'acid'],
    ['eau de Javel et vinaigre', 'acid'],
    ['bleach after citric acid', 'acid'],
    ['bleach and ammonia', 'ammonia'],
    ['javel et ammoniaque', 'ammonia'],
    ['unscented bleach', undefined],
    ['hot water and vinegar', undefined],
    ['hot water', undefined],
  ])('%s: %s', (text, mixture) => expect(dangerousMixture(text)).toBe(mixture));

  test.each([
    ['', 'E. coli present'],
    ['', 'coliform detected'],
    ['', 'total coliform 12 per 100 mL'],
    ['', 'failed'],
    ['', 'E. coli absent, coliform present'],
    ['', 'coliformes trouvés'],
    ['coliform', 'see report'],
    ['e-coli', 'no coliform found'],
    ['none', 'E. coli present'],
  ])('water with “%s” and “%s” failed', (bacteria, result) => expect(waterFailed(bacteria, result)).toBe(true));
  test.each([
    ['', 'no coliform found'],
    ['', 'E. coli absent, coliform absent'],
    ['', 'negative'],
    ['', 'not detected'],
    ['', '0 per 100 mL'],
    ['', 'aucun coliforme trouvé'],
    ['none', 'passed'],
  ])('water with “%s” and “%s” is good', (bacteria, result) => expect(waterFailed(bacteria, result)).toBe(false));

  test('equipment in which sap boils is distinguished from the rest', () => {
    for (const what of ['both pans', 'front and back pan', 'the pan', 'the evaporator', 'les casseroles'])
      expect(cleansAllPans(what)).toBe(true);
    for (const what of ['finish pan and draw-off', 'filter tank', 'bottling bench', 'floor'])
      expect(cleansAllPans(what)).toBe(false);
  });
});
