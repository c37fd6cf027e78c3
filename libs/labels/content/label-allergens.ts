import { findAllergens } from '#libs/syrup/contents/allergens.js';
import { findNuts } from '#libs/syrup/contents/nut-kinds.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';

/** Kinds of allergen for which the specific nut, fish or shellfish must be named too. */
const namedSpecifically = new Set(['tree-nuts', 'fish', 'crustaceans']);

/**
 * The allergens of a pack in the terms and languages of the place; an answer that isn't in the place's list stays as
 * typed.
 */
export function labelAllergens(answered: readonly string[], place: Pick<PlaceRules, 'allergens'>): string[] {
  const text = answered.flatMap((answer) => {
    const ids = [...new Set(findAllergens(answer).map(({ anyOf }) => anyOf[0]))];
    const known = (place.allergens?.list ?? []).filter(({ id }) => ids.includes(id));
    if (known.length === 0) return [answer];
    return known.flatMap(({ id, en, fr }) => {
      const both = fr === undefined ? en : `${en} / ${fr}`;
      const nuts = id === 'tree-nuts' ? findNuts(answer) : [];
      if (nuts.length > 0) return nuts.map((nut) => `${fr === undefined ? nut.en : `${nut.en} / ${nut.fr}`} (${both})`);
      const own = answer.trim().toLowerCase();
      return namedSpecifically.has(id) && !both.toLowerCase().includes(own.replace(/s$/u, ''))
        ? `${own} (${both})`
        : both;
    });
  });
  return [...new Set(text)];
}
