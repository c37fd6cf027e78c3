import type { Fault } from './problem.js';

const isParsed: unique symbol = Symbol('parsed');

/** The fault of a box that could not be parsed. */
export type BoxFault = Pick<Fault, 'expected' | 'got' | 'box'>;

/**
 * A field that its edge has parsed already: a reading out of boxes of its own, a number that the program knows, a value
 * that the record holds. No later code parses it again. Marked by a symbol, so no JSON, form or file can pass for one.
 */
export interface ParsedField<T = unknown> {
  readonly [isParsed]: true;
  /** As the log keeps it, and what a repeated request is compared by. */
  readonly typed: string;
  readonly result:
    | { readonly value: T; readonly faults?: undefined }
    | { readonly value?: undefined; readonly faults: readonly BoxFault[] };
}

/** A field with the value that its edge has read. */
export const parsedField = <T>(typed: string, value: T): ParsedField<T> => ({
  [isParsed]: true,
  typed,
  result: { value },
});

/** A field with boxes that could not be read; `typed` is all of them as they were filled. */
export const faultyField = (typed: string, faults: readonly BoxFault[]): ParsedField<never> => ({
  [isParsed]: true,
  typed,
  result: { faults },
});

/** Whether a value was made by `parsedField` or `faultyField`. */
export const isParsedField = (value: unknown): value is ParsedField =>
  typeof value === 'object' && value !== null && isParsed in value;

/** What was sent of a record: texts, numbers, lists of texts, or fields that were parsed where they arrived. */
export type SentFields = Readonly<Record<string, unknown>>;

/** The same as text alone: the form that requests are compared in. */
export const sentTexts = (sent: SentFields): Readonly<Record<string, unknown>> =>
  Object.fromEntries(Object.entries(sent).map(([name, value]) => [name, isParsedField(value) ? value.typed : value]));
