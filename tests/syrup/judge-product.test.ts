import { describe, expect, test } from '@jest/globals';
import { otherProductOf } from '#libs/syrup/contents/judge-product.js';
import { density, fills, judged, spoke } from '../support/pack-facts.js';

describe('the product in the jar', () => {
  test.each([
    ['', '-', '–', 'maple syrup', 'Maple-syrup', 'Pure Maple Syrup', '100% pure maple syrup', 'syrup'],
    ['sirop d’érable', 'Sirop d’érable pur', 'Grade A amber maple syrup', 'organic maple syrup, very dark'],
  ])('%s and similar texts are pure maple syrup', (...text) => {
    for (const each of text) expect([each, otherProductOf(each)]).toEqual([each, undefined]);
  });

  test.each([
    ['infused', 'infused', 'vanilla-infused maple syrup', 'syrup steeped with rosemary', 'sirop infusé'],
    ['barrel-aged', 'barrel-aged', 'bourbon barrel maple syrup', 'Vieilli en fût de chêne'],
    ['flavoured', 'flavoured', 'flavored syrup', 'cinnamon maple syrup', 'sirop aromatisé', 'smoked maple syrup'],
    ['cream', 'cream', 'maple cream', 'crème d’érable', 'maple spread'],
    ['butter', 'butter', 'maple butter', 'beurre d’érable'],
    ['candy', 'candy', 'maple candies', 'taffy', 'tire d’érable'],
    ['sugar', 'sugar', 'granulated maple sugar', 'sucre d’érable'],
    ['below-density', 'below-density', 'syrup below density'],
    ['other', 'other', 'hot sauce', 'maple', 'syrup with pecans', 'birch syrup', 'maple syrup and something'],
  ])('%s is not pure maple syrup', (kind, ...text) => {
    for (const each of text) expect([each, otherProductOf(each)]).toEqual([each, kind]);
  });

  test('another product gets no verdict on fill, density or grade', () => {
    expect(spoke({ product: 'maple cream' })).toEqual(['outside-these-rules!']);
    const thin = { product: 'infused', fills: fills('150 F'), density: density('50 Bx', '60 F'), offFlavour: 'sage' };
    expect(spoke(thin)).toEqual(['outside-these-rules!']);
    expect(judged(thin)).toMatchObject({ brix: null, colour: null, brixUncertainty: null });
    expect(spoke({ product: 'infused', sealsFailed: 2 })).toEqual(['outside-these-rules!', 'seals-failed!']);
  });

  test('each kind has its hazard, and the way out says whom to ask and who may release', () => {
    const [finding] = judged({ product: 'barrel-aged' }).findings;
    expect(finding?.found).toContain('A barrel gives water, alcohol');
    expect(finding?.wayOut).toMatch(
      /^Ask .*an owner then releases the lot and records who was asked, when, and the answer/,
    );
  });

  test('syrup poured from a pack of another product is that product, whatever the new pack is called', () => {
    const pouredFrom = [{ lot: '26077A-1', product: 'infused' }];
    expect(spoke({ pouredFrom })).toEqual(['outside-these-rules!']);
    expect(judged({ product: 'pure maple syrup', pouredFrom }).findings[0]?.found).toContain('poured from 26077A-1');
    expect(spoke({ pouredFrom: [{ lot: '26077A-1', product: 'maple syrup' }] })).toEqual([]);
  });
});
