import type { Fault } from './problem.js';

const isParsed: unique symbol = Symbol('parsed');

/** The fault of a form box that could not be parsed. */
export type BoxFault = Pick<Fault, 'expected' | 'got' | 'box'>;

/**
 * A field that was already parsed where it entered: a reading from several boxes, a number that the program knows, a
 * stored value. No later code parses it again. Marked by a symbol, so that no JSON, form or file can imitate it.
 */
export interface ParsedField<T = unknown> {
  readonly [isParsed]: true;
  /** As stored in the log, and compared to detect a repeated request. */
  readonly typed: string;
  readonly result:
    | { readonly value: T; readonly faults?: undefined }
    | { readonly value?: undefined; readonly faults: readonly BoxFault[] };
}

/** A field with its parsed value. */
export const parsedField = <T>(typed: string, value: T): ParsedField<T> => ({
  [isParsed]: true,
  typed,
  result: { value },
});

/** A field whose boxes could not be parsed; `typed` is the text of all of them. */
export const faultyField = (typed: string, faults: readonly BoxFault[]): ParsedField<never> => ({
  [isParsed]: true,
  typed,
  result: { faults },
});

/** Whether a value was made by `parsedField` or `faultyField`. */
export const isParsedField = (value: unknown): value is ParsedField =>
  typeof value === 'object' && value !== null && isParsed in value;

/** What a request sends for a record: texts, numbers, lists of texts, or already parsed fields. */
export type RecordInput = Readonly<Record<string, unknown>>;

/** The same as text only: the form in which requests are compared. */
export const inputTexts = (input: RecordInput): Readonly<Record<string, unknown>> =>
  Object.fromEntries(Object.entries(input).map(([name, value]) => [name, isParsedField(value) ? value.typed : value]));
