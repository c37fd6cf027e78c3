import type { Portion } from '#libs/records/portion.js';
import type { Parsed } from '#libs/syrup/quantities/quantities.js';
import {
  type PortionRequest,
  container,
  density,
  type Field,
  type Fields,
  fillReadings,
  pastMoment,
  instruments,
  duplicateLotMismatch,
  moment,
  percent,
  portions,
  temperature,
  type Typed,
  volume,
} from './fields.js';
import { mergeSpans, type NamedJars, parseJarSpans } from '#libs/syrup/jars/jar-spans.js';
import { parsedField, type ParsedField, type RecordInput } from './parsed-field.js';

/** A stored record: each field as typed, and the value parsed from it when it was written. */
export interface StoredFields {
  readonly typed: Typed;
  readonly body: unknown;
}

/**
 * A field of a stored record with the value parsed at the time, so that the text isn't parsed again with today's zone
 * and gallon. Undefined where the body holds something other than the parser's value (a lot's code for a lot as typed);
 * such a field is parsed from its text.
 */
export function storedField(
  field: Field<unknown>,
  { typed, body }: StoredFields,
  name: string,
): ParsedField | undefined {
  const text = typed[name];
  if (text === undefined) return undefined;
  const value = restoreValue(field.read, (body as Readonly<Record<string, unknown>>)[name]);
  return value === undefined ? undefined : parsedField(text, value);
}

/** All fields of a stored record, ready to send again unchanged. */
export const storedFields = (fields: Fields, stored: StoredFields): RecordInput =>
  Object.fromEntries(
    Object.entries(stored.typed).map(([name, text]) => {
      const field = fields[name];
      return [name, (field && storedField(field, stored, name)) ?? text];
    }),
  );

function restoreValue(read: unknown, stored: unknown): unknown {
  switch (read) {
    case temperature:
    case density:
    case percent:
    case volume:
    case container:
      return hasTyped(stored) ? stored : undefined;
    case moment:
    case pastMoment:
      return typeof stored === 'string' && !Number.isNaN(Date.parse(stored)) ? stored : undefined;
    case instruments:
      return Array.isArray(stored) ? stored : undefined;
    case fillReadings:
      return Array.isArray(stored) && stored.every(hasTyped) ? stored : undefined;
    case parseJarSpans:
      return hasTyped(stored) && 'spans' in stored ? stored : undefined;
    case portions:
      return Array.isArray(stored) && stored.every(hasTyped) ? (stored as Portion[]).map(portionRequest) : undefined;
    default:
      return undefined;
  }
}

const hasTyped = (stored: unknown): stored is { readonly typed: string } =>
  typeof stored === 'object' && stored !== null && 'typed' in stored && typeof stored.typed === 'string';

/** Where no amount was typed, all that is left is requested again. */
const portionRequest = ({ lot, typed, millilitres }: Portion): PortionRequest =>
  typed === '' ? { lot } : { lot, volume: { typed, millilitres } };

/** A list with added items; undefined for a field whose value is no list of parts. */
export function joinLists(read: unknown, before: unknown, more: unknown): Parsed<unknown> | undefined {
  if (read === parseJarSpans) return { value: joinJars(before as NamedJars, more as NamedJars) };
  if (!Array.isArray(before) || !Array.isArray(more)) return undefined;
  const both: unknown[] = [...(before as readonly unknown[]), ...(more as readonly unknown[])];
  switch (read) {
    case fillReadings:
      return { value: both };
    case instruments:
      return { value: [...new Set(both)] };
    case portions:
      return duplicateLotMismatch(both as readonly PortionRequest[]) ?? { value: both };
    default:
      return undefined;
  }
}

const joinJars = (before: NamedJars, more: NamedJars): NamedJars =>
  before.all || more.all
    ? { typed: 'all', spans: [], all: true }
    : { typed: `${before.typed};${more.typed}`, spans: mergeSpans([...before.spans, ...more.spans]), all: false };
