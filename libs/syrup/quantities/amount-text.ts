/**
 * A number and what stands after it. Read from left to right by patterns that never try a part of the text twice, so
 * that the longest text takes no longer than its length.
 */
export interface AmountText {
  /** −1 or 1. */
  readonly sign: number;
  /** As typed, with its point or comma: `12.5`, `,75`. */
  readonly digits: string;
  /** All after the number, without the spaces around it; never empty. */
  readonly rest: string;
}

/** Undefined where the text doesn't begin with a number, or holds nothing after it. */
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

/** `1,200` is read two ways, so a comma before exactly three digits is refused. */
export const isAmbiguous = (digits: string): boolean => /,\d{3}$/u.test(digits);

/** The number of digits with a decimal point or comma. */
export const numberOf = (digits: string): number => Number(digits.replace(',', '.'));
