import { isBlank, isNone } from '#libs/syrup/quantities/plain-answers.js';

/** A boil whose syrup is in the jars, with what its own log and the bottle say beside its record. */
export interface DefoamerRecorded {
  readonly defoamer: string;
  readonly allergens: string;
  /** Defoamers that its log names. */
  readonly logged: readonly string[];
  /** What is written with the bottle of that name, which nobody confirmed for this boil. */
  readonly bottle: string | null;
}

export interface AllergensRecorded {
  /** Allergens that were named in any answer. */
  readonly named: readonly string[];
  /** Undefined where a boil upstream has no record. */
  readonly boils: readonly (DefoamerRecorded | undefined)[];
  /** What makers of bought syrup answered; blank where they were not asked. */
  readonly bought: readonly string[];
  /** A corrective action answered it. */
  readonly answeredLater: boolean;
  /** Rules that ask about allergens still. */
  readonly asked: boolean;
}

/**
 * `none` only where the defoamer of every boil and the maker of all bought syrup were answered for. A blank is not
 * recorded, and so is a boil that says none while its log names a defoamer; what a bottle says is printed beside it, not
 * taken for the answer.
 */
export function formatAllergens({ named, boils, bought, answeredLater, asked: request }: AllergensRecorded): string {
  const lacks = (boil: DefoamerRecorded | undefined): boolean =>
    !boil || isBlank(boil.defoamer) || (usedIn(boil) && isBlank(boil.allergens) && !answeredLater);
  const blank =
    request ||
    boils.length + bought.length === 0 ||
    boils.some(lacks) ||
    (!answeredLater && bought.some((answer) => isBlank(answer)));
  if (!blank) return named.join(', ') || 'none';
  const bottles = [...new Set(boils.filter(lacks).flatMap((boil) => boil?.bottle ?? []))];
  const rest = named.length > 0 ? 'rest not recorded' : 'not recorded';
  return [...named, bottles.length > 0 ? `${rest} (bottle: ${bottles.join(', ')})` : rest].join(', ');
}

const usedIn = ({ defoamer, logged }: DefoamerRecorded): boolean => [defoamer, ...logged].some((name) => !isNone(name));
