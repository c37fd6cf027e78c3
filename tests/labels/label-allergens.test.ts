import { expect, test } from '@jest/globals';
import { placeRules } from '#libs/actions/places/places.js';
import { labelAllergens } from '#libs/labels/content/label-allergens.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';

const of = (place: string, ...answered: string[]) => labelAllergens(answered, placeRules(place) as PlaceRules);

test('the label names allergens in the words and languages of the place', () => {
  expect(of('Vermont', 'Milk', 'lait', 'butter')).toEqual(['milk']);
  expect(of('Quebec', 'milk')).toEqual(['milk / lait']);
  expect(of('Ontario', 'arachides', 'soja')).toEqual(['peanuts / arachides', 'soy / soja']);
  expect(of('Canada', 'moutarde', 'sulphites')).toEqual(['mustard / moutarde', 'sulphites / sulfites']);
});

test('a nut or a fish is named by its kind, and an allergen on no list stays as it was typed', () => {
  expect(of('New York', 'almonds')).toEqual(['almonds (tree nuts)']);
  expect(of('Canada', 'noisettes')).toEqual(['hazelnuts / noisettes (tree nuts / noix)']);
  expect(of('Quebec', 'cashew butter')).toContain('cashews / noix de cajou (tree nuts / noix)');
  expect(of('Ontario', 'pecans and pignons')).toEqual([
    'pecans / pacanes (tree nuts / noix)',
    'pine nuts / pignons (tree nuts / noix)',
  ]);
  expect(of('Maine', 'almond')).toEqual(['almonds (tree nuts)']);
  expect(of('Maine', 'tree nuts')).toEqual(['tree nuts']);
  expect(of('Ohio', 'balsam', 'mustard')).toEqual(['balsam', 'mustard']);
});

test.each(['Vermont', 'New Hampshire', 'New York', 'Maine', 'Ohio', 'us', 'Canada', 'Ontario', 'Quebec'])(
  '%s lists its allergens with a source, in both languages where the place asks for both',
  (name) => {
    const place = placeRules(name) as PlaceRules;
    expect(place.allergens?.source).toMatch(/.{10}/);
    const nine = ['milk', 'eggs', 'fish', 'crustaceans', 'tree-nuts', 'peanuts', 'wheat', 'soy', 'sesame'];
    const more = place.canada ? ['mustard', 'sulphites', 'gluten'] : [];
    expect(place.allergens?.list.map(({ id }) => id)).toEqual([...nine, ...more]);
    for (const each of place.allergens?.list ?? []) expect(Boolean(each.fr)).toBe(place.canada);
  },
);
