import { allergensIn } from './allergens.js';

/**
 * Defoamers with an allergen that a boil's note names: `used a dab of butter`. Butter on the crew's pancakes doesn't
 * count. The words of both languages are from memory.
 */
export const defoamersInNote = (note: string): string[] =>
  note
    .split(/[.;,!?]|\b(?:but|mais)\b/u)
    .map((clause) => clause.trim())
    .filter((clause) => putIn.test(clause) && !elsewhere.test(clause) && allergensIn(clause).length > 0);

const putIn =
  /\b(?:dab|pat|knob|drops?|dash|bit|spoon\w*|splash|stick) (?:of|de|d[’'])|\b(?:used|added|threw in|put in|stirred in|tossed in|ajout\w*|mis|utilis\w*)\b|\b(?:noix|peu|noisette|goutte) de beurre\b/iu;
const elsewhere =
  /\b(?:pancakes?|waffles?|toast|bread|lunch|supper|breakfast|coffee|eggs? (?:and|in)|crew|never|no|not|didn|without|sans|pas|aucun\w*|jamais|crêpes?|pain|dîner|souper)\b/iu;
