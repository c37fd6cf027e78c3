import { isBlank, isNone } from '#libs/syrup/free-text/short-answers.js';

/** A boil whose syrup is in the jars, with the defoamers in its log and the text on the bottle. */
export interface DefoamerRecorded {
  readonly defoamer: string;
  readonly allergens: string;
  /** Defoamers that its log names. */
  readonly logged: readonly string[];
  /** The allergens recorded for the bottle of that name, which nobody confirmed for this boil. */
  readonly bottle: string | null;
}

export interface AllergensRecorded {
  /** Allergens that were named in any answer. */
  readonly named: readonly string[];
  /** Undefined where a boil upstream has no record. */
  readonly boils: readonly (DefoamerRecorded | undefined)[];
  /** What suppliers of bought syrup answered; blank where they were not asked. */
  readonly bought: readonly string[];
  /** Whether a corrective action answered it. */
  readonly answeredLater: boolean;
  /** Whether rules still ask about allergens. */
  readonly isQuestionOpen: boolean;
}

/**
 * `none` only where the defoamer of every boil and the supplier of all bought syrup have an answer. A blank counts as
 * not recorded, and so does a boil that says none while its log names a defoamer; a bottle's text is printed beside it,
 * not taken for the answer.
 */
export function formatAllergens({
  named,
  boils,
  bought,
  answeredLater,
  isQuestionOpen: isOpen,
}: AllergensRecorded): string {
  const lacks = (boil: DefoamerRecorded | undefined): boolean =>
    !boil || isBlank(boil.defoamer) || (usedIn(boil) && isBlank(boil.allergens) && !answeredLater);
  const blank =
    isOpen ||
    boils.length + bought.length === 0 ||
    boils.some(lacks) ||
    (!answeredLater && bought.some((answer) => isBlank(answer)));
  if (!blank) return named.join(', ') || 'none';
  const bottles = [...new Set(boils.filter(lacks).flatMap((boil) => boil?.bottle ?? []))];
  const rest = named.length > 0 ? 'rest not recorded' : 'not recorded';
  return [...named, bottles.length > 0 ? `${rest} (bottle: ${bottles.join(', ')})` : rest].join(', ');
}

const usedIn = ({ defoamer, logged }: DefoamerRecorded): boolean => [defoamer, ...logged].some((name) => !isNone(name));
