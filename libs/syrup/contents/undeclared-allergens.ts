import { allergensIn } from './allergens.js';
import { nutsNamed } from './nut-kinds.js';

/**
 * Which of the allergens, as answered, a label with these statements does not declare. `Milk / Lait` declares butter;
 * `almonds (tree nuts)` declares neither pecans nor unnamed nuts; `tree nuts` alone declares every nut.
 */
export const undeclared = (allergens: readonly string[], statements: readonly string[]): string[] =>
  allergens.filter((allergen) => !declares(statements, allergen));

function declares(statements: readonly string[], allergen: string): boolean {
  const answer = folded(allergen);
  if (statements.some((each) => folded(each) === answer)) return true;
  const ids = idsIn(allergen);
  // A word that no list knows is declared only by the same word.
  if (ids.length === 0) return statements.some((each) => folded(each).includes(answer));
  return ids.every((id) => statements.some((each) => idsIn(each).includes(id) && namesKind(id, each, allergen)));
}

/** As on labels: the first that an ambiguous word, such as margarine, may stand for. */
const idsIn = (text: string): string[] => [...new Set(allergensIn(text).map(({ any }) => any[0]))];

/** Nuts, fish and shellfish differ by kind: the statement has to name that kind, or the whole family. */
function namesKind(id: string, statement: string, allergen: string): boolean {
  if (id === 'tree-nuts') {
    const stated = nutsNamed(statement);
    if (stated.length === 0) return isFamily(statement);
    const nuts = nutsNamed(allergen);
    return nuts.length > 0 && nuts.every((nut) => stated.includes(nut));
  }
  if (id !== 'fish' && id !== 'crustaceans') return true;
  return isFamily(statement) || folded(statement).includes(folded(allergen));
}

const isFamily = (statement: string): boolean =>
  /^(?:tree nuts?|nuts?|noix|fish|poissons?|crustacean shellfish|crustaceans?|shellfish)(?: ?\/|$)/iu.test(
    statement.trim(),
  );

const folded = (text: string): string => text.trim().toLowerCase();
