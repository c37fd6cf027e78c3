import { parseAllergenAnswer, findAllergens, isHomemade, type NamedAllergen } from './allergens.js';
import { isBlank, isNone } from '../free-text/short-answers.js';
import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';

/** The defoamer of a boil; or of bought syrup, by its supplier’s answer. */
export interface DefoamerFacts {
  /** How sentences name the boil or the receipt: `boil 26077A`, `bought syrup R001`. */
  readonly of: string;
  /** The record that contains the answer: `boil/26077A`. */
  readonly about: string;
  /** Its names, as typed: with the boil, and in its log. */
  readonly names: readonly string[];
  /** Every answer about its allergens: with the boil, and later by an action. */
  readonly answers: readonly string[];
  /** Bought syrup: an answer is needed whether or not a defoamer is named. */
  readonly bought?: boolean | undefined;
  /** An earlier answer for the same bottle or name; nobody confirmed it for this boil yet. */
  readonly before?: { readonly answer: string; readonly where: string } | undefined;
}

/** A finding where a defoamer’s allergens are not recorded, or its name contradicts the answer. */
export function judgeDefoamer(facts: DefoamerFacts): Finding[] {
  const used = facts.names.filter((name) => !isNone(name));
  if (used.length === 0 && !facts.bought) return [];
  const answer = parseAllergenAnswer(...facts.answers);
  const isBlankPurchase = facts.bought && used.length === 0 && facts.answers.every(isBlank);
  if (!answer.answered) return [isBlankPurchase ? supplierNotRecorded(facts) : answerMissing(facts, used)];
  const unanswered = unansweredAllergens(used, answer.named);
  if (unanswered.length > 0) return [contradiction(facts, used, unanswered)];
  const homemade = used.find(isHomemade);
  return homemade === undefined || answer.named.length > 0 ? [] : [homemadeWithoutIngredients(facts, homemade)];
}

/**
 * An advisory where a boil names no defoamer and doesn't say “none” either: a label without allergens may then be wrong.
 * It holds nothing, since most boils on paper and in older files leave the box blank.
 */
export function defoamerNotRecorded({ of, about, names, answers }: DefoamerFacts): Finding[] {
  if (![...names, ...answers].every(isBlank)) return [];
  return [
    findingOf('defoamer-not-recorded', {
      limit: 'the name of the defoamer, or “none”',
      found: `${of}: whether a defoamer was used is not recorded`,
      about,
    }),
  ];
}

/** Allergens of these defoamers, each once: as answered, and those in their names that no answer covers. */
export function allergensCarried(defoamers: readonly Pick<DefoamerFacts, 'names' | 'answers'>[]): string[] {
  const text = defoamers.flatMap(({ names, answers }) => {
    const { named } = parseAllergenAnswer(...answers);
    return [...named, ...unansweredAllergens(names, named).map(({ anyOf }) => anyOf[0].replace('-', ' '))];
  });
  return [...new Map(text.map((word) => [word.toLowerCase(), word])).values()];
}

/** The allergens in the names that no answer covers. */
function unansweredAllergens(names: readonly string[], answered: readonly string[]): NamedAllergen[] {
  const covered = new Set(answered.flatMap(findAllergens).flatMap(({ anyOf }) => anyOf));
  return names.flatMap(findAllergens).filter(({ anyOf }) => !anyOf.some((id) => covered.has(id)));
}

const answerRequired = 'the allergens of each defoamer recorded, or “none”';

/**
 * Bought syrup whose allergens nobody recorded. Its maker may have used butter or cream as a defoamer, so a label
 * without allergens may be wrong.
 */
function supplierNotRecorded({ of, about }: DefoamerFacts): Finding {
  return findingOf('bought-syrup-allergens', {
    limit: 'the allergens of bought syrup recorded, or “none”',
    found: `${of}: allergens not recorded`,
    about,
  });
}

function answerMissing({ of, about, answers, before }: DefoamerFacts, used: readonly string[]): Finding {
  const typed = answers.find((each) => !isBlank(each));
  const what = used.length > 0 ? `defoamer ${used.join(', ').trim()}` : 'its defoamer';
  return findingOf('defoamer-allergens', {
    limit: answerRequired,
    found: `${of}: ${what}, allergens ${typed === undefined ? 'not recorded' : `“${typed.trim()}”`}`,
    about,
    wayOut: before
      ? `${before.where} the answer was “${before.answer}”. If it is the same bottle, confirm it for this boil; else read the label of the bottle.`
      : 'Read the label of the bottle and record the answer; “none” is an answer.',
  });
}

function contradiction(
  { of, about, answers }: DefoamerFacts,
  used: readonly string[],
  unanswered: readonly NamedAllergen[],
) {
  const answerText = answers.filter((each) => !isBlank(each)).join(', ');
  const allergenText = [
    ...new Set(unanswered.map(({ anyOf }) => anyOf.map((id) => id.replace('-', ' ')).join(' or '))),
  ].join(', ');
  return findingOf('allergen-contradiction', {
    limit: 'the recorded allergens include those that the defoamer’s name points to',
    found: `${of}: defoamer ${used.join(', ').trim()}, allergens “${answerText}”, but ${unanswered.map(({ word }) => word).join(', ')} says ${allergenText}`,
    about,
    wayOut: `Record the allergens as ${allergenText} and print new labels; or correct the defoamer’s name if another was used.`,
  });
}

function homemadeWithoutIngredients({ of, about }: DefoamerFacts, name: string): Finding {
  return findingOf('defoamer-allergens', {
    limit: answerRequired,
    found: `${of}: defoamer ${name.trim()}: its ingredients are not recorded, so “none” can’t be checked`,
    about,
    wayOut: 'Record what it is made of with the name, such as “homemade: sunflower oil”, or the allergens it has.',
  });
}
