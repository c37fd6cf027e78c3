/** A number and the text after it. Parsed from left to right by patterns without backtracking, in linear time. */
export interface AmountText {
  /** −1 or 1. */
  readonly sign: number;
  /** As typed, with its point or comma: `12.5`, `,75`. */
  readonly digits: string;
  /** Everything after the number, trimmed; never empty. */
  readonly rest: string;
}

/** Undefined where the text doesn't begin with a number, or has nothing after it. */
export function splitAmount(text: string): AmountText | undefined {
  const typed = text.trim();
  const isSigned = /^[+\-−]/u.test(typed);
  const unsigned = isSigned ? typed.slice(1).trimStart() : typed;
  const digits = /^(?:\d+(?:[.,]\d+)?|[.,]\d+)/u.exec(unsigned)?.[0];
  if (digits === undefined) return undefined;
  const rest = unsigned.slice(digits.length).trimStart();
  if (rest === '' || /^\d/u.test(rest) || /[\r\n\u2028\u2029]/u.test(rest)) return undefined;
  return { sign: isSigned && !typed.startsWith('+') ? -1 : 1, digits, rest };
}

/** `1,200` is ambiguous, so a comma before exactly three digits is refused. */
export const isAmbiguousComma = (digits: string): boolean => /,\d{3}$/u.test(digits);

/** Converts digits with a decimal point or comma. */
export const parseDecimal = (digits: string): number => Number(digits.replace(',', '.'));
