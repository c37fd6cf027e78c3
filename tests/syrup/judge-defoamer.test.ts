import { describe, expect, test } from '@jest/globals';
import { parseAllergenAnswer, findAllergens } from '#libs/syrup/contents/allergens.js';
import { allergensCarried, judgeDefoamer } from '#libs/syrup/contents/judge-defoamer.js';
import { boil, judged, spoke } from '../support/pack-facts.js';

const rule = (name: string, ...answers: string[]): string =>
  judgeDefoamer({ of: 'boil 26077A', about: 'boil/26077A', names: [name], answers })
    .map((finding) => finding.rule)
    .join();

describe('the allergens of a defoamer', () => {
  test.each([
    ['butter', 'none'],
    ['Butter', 'N/A'],
    ['a knob of butter', 'no'],
    ['salted butter', 'soy'],
    ['beurre', 'aucun'],
    ['crème', 'aucune'],
    ['cream', 'none'],
    ['a drop of milk', 'none'],
    ['lait', 'none'],
    ['whey', 'none'],
    ['ghee', 'none'],
    ['half and half', 'none'],
    ['margarine', 'none'],
    ['peanut oil', 'N/A'],
    ['huile d’arachide', 'none'],
    ['peanut butter', 'milk'],
    ['walnut oil', 'none'],
    ['huile de noix', 'non'],
    ['almond oil', 'none'],
    ['nut oil', 'none'],
    ['soybean oil', 'none'],
    ['soy lecithin', 'none'],
    ['lécithine', 'none'],
    ['huile de soja', 'none'],
    ['sesame oil', 'milk'],
    ['butter and sunflower oil', 'none'],
    ['butter', 'no milk'],
  ])('%s answered %s is a contradiction', (name, answer) => {
    expect(rule(name, answer)).toBe('allergen-contradiction');
  });

  test.each([
    ['butter', 'milk'],
    ['Beurre', 'lait'],
    ['butter', 'dairy'],
    ['butter', 'none', 'milk'],
    ['margarine', 'soy'],
    ['peanut oil', 'peanuts'],
    ['huile d’arachide', 'arachides'],
    ['walnut oil', 'tree nuts'],
    ['huile de noix', 'noix'],
    ['soy lecithin', 'soja'],
    ['sunflower oil', 'none'],
    ['sunflower oil', 'N/A'],
    ['canola oil', 'none'],
    ['lard', 'none'],
    ['saindoux', 'none'],
    ['coconut oil', 'none'],
    ['cocoa butter', 'none'],
    ['shea butter', 'none'],
    ['vegan butter', 'none'],
    ['dairy-free butter', 'none'],
    ['sunflower lecithin', 'none'],
    ['balsam twig', 'none'],
    ['commercial defoamer, no milk or nuts', 'none'],
    ['none', ''],
    ['', ''],
    ['homemade', 'milk'],
    ['homemade: sunflower oil', 'none'],
  ])('%s answered %s passes', (...[name, ...answers]) => {
    expect(rule(name, ...answers)).toBe('');
  });

  test.each([
    ['butter', ''],
    ['sunflower oil', 'not sure'],
    ['Defoam 3', '?'],
    ['homemade', 'none'],
    ['home-made defoamer', 'N/A'],
    ['fait maison', 'aucun'],
  ])('%s answered %s needs another answer', (name, answer) => {
    expect(rule(name, answer)).toBe('defoamer-allergens');
  });

  test('every hold for one has a way out; an earlier answer is offered and opens nothing by itself', () => {
    const facts = { of: 'boil 26077A', about: 'boil/26077A', names: ['butter'], answers: [''] };
    const [request] = judgeDefoamer({ ...facts, before: { answer: 'milk', where: 'With boil 26070A' } });
    expect(request).toMatchObject({ rule: 'defoamer-allergens', stop: true, about: 'boil/26077A' });
    expect(request?.wayOut).toContain('With boil 26070A the answer was “milk”');
    for (const answer of ['', 'none']) expect(judgeDefoamer({ ...facts, answers: [answer] })[0]?.wayOut).toMatch(/./);
  });

  test('bought syrup without an answer holds, and so does “not sure” by its maker; an answer passes', () => {
    const bought = { of: 'bought syrup R001', about: 'receipt/R001', names: [], bought: true };
    expect(spoke({ bought: [{ ...bought, answers: [''] }] })).toEqual(['bought-syrup-allergens!']);
    expect(spoke({ bought: [{ ...bought, answers: ['not sure'] }] })).toEqual(['defoamer-allergens!']);
    expect(spoke({ bought: [{ ...bought, answers: ['none'] }] })).toEqual([]);
    expect(judged({ bought: [{ ...bought, answers: ['milk'] }] }).allergens).toEqual(['milk']);
  });

  test('every answer carries over, and so does an allergen implied by a name that no answer covers', () => {
    expect(allergensCarried([{ names: ['butter'], answers: ['none'] }])).toEqual(['milk']);
    expect(allergensCarried([{ names: ['butter'], answers: ['Milk', 'milk'] }])).toEqual(['milk']);
    expect(allergensCarried([{ names: ['walnut oil'], answers: ['walnut; soy'] }])).toEqual(['walnut', 'soy']);
    expect(allergensCarried([{ names: ['sunflower oil'], answers: ['none'] }])).toEqual([]);
    expect(judged({ boils: [boil({ allergensInPans: ['milk'] })] }).allergens).toEqual(['milk']);
  });

  test('an answer is a name, none, or nothing', () => {
    expect(parseAllergenAnswer('N/A')).toEqual({ answered: true, named: [] });
    expect(parseAllergenAnswer('milk and soy')).toEqual({ answered: true, named: ['milk', 'soy'] });
    expect(parseAllergenAnswer('lait et soja')).toEqual({ answered: true, named: ['lait', 'soja'] });
    expect(parseAllergenAnswer('', '-')).toEqual({ answered: false, named: [] });
    expect(parseAllergenAnswer('none', 'not sure').answered).toBe(false);
    expect(findAllergens('nutmeg, coconut, doughnuts, butternut')).toEqual([]);
  });
});
