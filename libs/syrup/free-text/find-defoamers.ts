import { findAllergens } from '../contents/allergens.js';

/**
 * Finds the clauses of a boil's note that name a defoamer with an allergen: `used a dab of butter`. Butter on the crew's
 * pancakes doesn't count. English and French, from memory.
 */
export const findAllergenicDefoamers = (note: string): string[] =>
  note
    .split(/[.;,!?]|\b(?:but|mais)\b/u)
    .map((clause) => clause.trim())
    .filter(
      (clause) => addingWords.test(clause) && !mealAndNegationWords.test(clause) && findAllergens(clause).length > 0,
    );

const addingWords =
  /\b(?:dab|pat|knob|drops?|dash|bit|spoon\w*|splash|stick) (?:of|de|d[’'])|\b(?:used|added|threw in|put in|stirred in|tossed in|ajout\w*|mis|utilis\w*)\b|\b(?:noix|peu|noisette|goutte) de beurre\b/iu;
const mealAndNegationWords =
  /\b(?:pancakes?|waffles?|toast|bread|lunch|supper|breakfast|coffee|eggs? (?:and|in)|crew|never|no|not|didn|without|sans|pas|aucun\w*|jamais|crêpes?|pain|dîner|souper)\b/iu;
