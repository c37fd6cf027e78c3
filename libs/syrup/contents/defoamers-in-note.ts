import { allergensIn } from './allergens.js';

/**
 * What a boil's note says was put into the foam, where it names an allergen: `used a dab of butter`. Butter on the crew's
 * pancakes is none. The words of both languages are from memory.
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
