import { limitMismatch, maxLetters } from './field-limits.js';
import { ownId, type BodyOf, type Field, type Fields, type Typed } from './fields.js';
import type { ParseOptions } from './parse-options.js';
import { isParsedField, parsedField, type ParsedField, type RecordInput } from './parsed-field.js';
import type { Fault } from './problem.js';
import { joinLists, storedField, type StoredFields } from './stored-fields.js';

/** The result for one field: its values, or its faults. */
type FieldResult = { readonly typed: string; readonly value: unknown } | { readonly faults: readonly Fault[] };

/** All fields of a record: their texts, and the values parsed from them. */
export type ReadFields<F = Fields> = Readonly<{ typed: Typed; body: BodyOf<F> }>;

/**
 * Parses all fields of a record, so that every fault is reported at once. `saved` is what the book already holds of it:
 * unchanged text keeps the value it was stored with, may exceed today's limits and may hold what a new record may not.
 * `any` accepts whatever any record may hold.
 */
export function readFields<F>(
  fields: F,
  input: RecordInput,
  options: ParseOptions,
  saved: StoredFields | 'any' = nothingStored,
): ReadFields<F> | { faults: Fault[] } {
  const typed: Record<string, string> = {};
  const body: Record<string, unknown> = {};
  const faults: Fault[] = [];
  for (const [name, field] of Object.entries(fields as Fields)) {
    const read = readField({ name, field, options, saved }, input[name]);
    if (read === undefined) body[name] = field.blank;
    else if ('faults' in read) faults.push(...read.faults);
    else {
      typed[name] = read.typed;
      body[name] = read.value;
    }
  }
  for (const name of Object.keys(input).filter((each) => !Object.hasOwn(fields as Fields, each)))
    faults.push({
      field: name.slice(0, maxLetters),
      expected: `one of the fields ${Object.keys(fields as Fields).join(', ')}`,
      got: `a field ${name.slice(0, maxLetters)}`,
    });
  return faults.length > 0 ? { faults } : { typed, body: body as BodyOf<F> };
}

const nothingStored: StoredFields = { typed: {}, body: {} };

/** A field to parse, and what the book already holds of its record. */
export interface FieldToRead {
  readonly name: string;
  readonly field: Field<unknown>;
  readonly options: ParseOptions;
  readonly saved: StoredFields | 'any';
}

/** Parses one field: its text and value, or its faults; undefined where it is blank and optional. */
export function readField(at: FieldToRead, arrived: unknown): FieldResult | undefined {
  const { name, field, options, saved } = at;
  const parsed = isParsedField(arrived) ? arrived : undefined;
  const text = parsed ? parsed.typed : asText(arrived);
  const fault = (expected: string, got: string): FieldResult => ({ faults: [{ field: name, expected, got }] });
  if (text === undefined) return fault(field.list ? 'text, or a list of texts' : 'text', 'something else');
  if (text === '') return field.needed ? fault(expectedWhenBlank(field, options), 'nothing') : undefined;
  if (unstorableCharacters.test(text))
    return fault('text of whole characters, without NUL', 'a character that is none');
  const recorded = saved === 'any' ? text : saved.typed[name];
  const tooLong = saved === 'any' ? undefined : limitMismatch(field, text, recorded);
  if (tooLong) return fault(tooLong.expected, tooLong.got);
  const stored = saved !== 'any' && text === recorded ? storedField(field, saved, name) : undefined;
  const known = stored ?? parsed;
  if (known?.result.faults) return { faults: known.result.faults.map((each) => ({ field: name, ...each })) };
  if (known) return { typed: text, value: known.result.value };
  const result = field.read(text, options, recorded);
  if (result.mismatch) return { faults: [{ field: name, ...result.mismatch }] };
  if (field.atMost !== undefined && Number(result.value) > field.atMost && text !== recorded)
    return fault(`at most ${field.atMost.toLocaleString('en-US')}`, `"${text}"`);
  return { typed: text, value: result.value };
}

/**
 * The fields of a stored record with additions: blank fields are filled, lists get their new items. Only the additions
 * are parsed.
 */
export function mergeAdditions(
  fields: Fields,
  saved: StoredFields,
  input: RecordInput,
  options: ParseOptions,
): RecordInput {
  const merged: Record<string, unknown> = { ...saved.typed };
  for (const [name, arrived] of Object.entries(input)) {
    const text = isParsedField(arrived) ? arrived.typed : asText(arrived);
    if (text === undefined || text === '') continue;
    const field = fields[name];
    const before = saved.typed[name];
    merged[name] =
      field?.list && before ? (appendToList({ name, field, options, saved }, arrived) ?? `${before};${text}`) : arrived;
  }
  return merged;
}

function appendToList({ name, field, options, saved }: FieldToRead, arrived: unknown): ParsedField | undefined {
  const before = saved === 'any' ? undefined : storedField(field, saved, name);
  const more = readField({ name, field, options, saved: nothingStored }, arrived);
  if (!before || before.result.faults || !more) return undefined;
  if ('faults' in more) return { ...before, typed: before.typed, result: { faults: more.faults } };
  const joined = joinLists(field.read, before.result.value, more.value);
  if (!joined) return undefined;
  const typed = `${before.typed};${more.typed}`;
  return joined.mismatch
    ? { ...before, typed, result: { faults: [joined.mismatch] } }
    : parsedField(typed, joined.value);
}

/** NUL, which PostgreSQL text can't store, and an unpaired surrogate, which has no UTF-8 encoding. */
const unstorableCharacters = /\u0000|\p{Cs}/u;

/** The "expected" text of a blank required field, from its parser. */
function expectedWhenBlank(field: Field<unknown>, options: ParseOptions): string {
  // For an id only the example helps somebody who left it blank.
  const mismatch = field.read === ownId && field.example ? undefined : field.read('', options).mismatch;
  return mismatch?.expected ?? (field.example ? `text like ${field.example}` : 'text');
}

function asText(value: unknown): string | undefined {
  if (value === undefined || value === null) return '';
  if (typeof value === 'string') return value.trim();
  if (typeof value === 'number' && Number.isFinite(value)) return String(value);
  if (Array.isArray(value) && value.every((each) => typeof each === 'string'))
    return value.map((each) => each.trim()).join(';');
  return undefined;
}
