import { findAllergens } from './allergens.js';
import { findNuts } from './nut-kinds.js';

/**
 * Returns the recorded allergens (as typed) that a label with these statements does not declare. `Milk / Lait` declares butter;
 * `almonds (tree nuts)` declares neither pecans nor unnamed nuts; `tree nuts` alone declares every nut.
 */
export const undeclaredAllergens = (allergens: readonly string[], statements: readonly string[]): string[] =>
  allergens.filter((allergen) => !declares(statements, allergen));

function declares(statements: readonly string[], allergen: string): boolean {
  const answer = normalized(allergen);
  if (statements.some((each) => normalized(each) === answer)) return true;
  const ids = idsIn(allergen);
  // An unknown word is declared only by a statement with the same word.
  if (ids.length === 0) return statements.some((each) => normalized(each).includes(answer));
  return ids.every((id) => statements.some((each) => idsIn(each).includes(id) && namesKind(id, each, allergen)));
}

/** The allergens in a text; of an ambiguous word, such as margarine, the first, which labels declare. */
const idsIn = (text: string): string[] => [...new Set(findAllergens(text).map(({ anyOf }) => anyOf[0]))];

/** Whether a statement covers the kind of nut, fish or shellfish: it names that kind, or all nuts, fish or shellfish. */
function namesKind(id: string, statement: string, allergen: string): boolean {
  if (id === 'tree-nuts') {
    const stated = findNuts(statement);
    if (stated.length === 0) return isFamily(statement);
    const nuts = findNuts(allergen);
    return nuts.length > 0 && nuts.every((nut) => stated.includes(nut));
  }
  if (id !== 'fish' && id !== 'crustaceans') return true;
  return isFamily(statement) || normalized(statement).includes(normalized(allergen));
}

const isFamily = (statement: string): boolean =>
  /^(?:tree nuts?|nuts?|noix|fish|poissons?|crustacean shellfish|crustaceans?|shellfish)(?: ?\/|$)/iu.test(
    statement.trim(),
  );

const normalized = (text: string): string => text.trim().toLowerCase();
