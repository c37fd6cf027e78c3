import { listedReadings } from '#libs/syrup/jars/poured-back.js';
import { type FillReading, withPouredBack } from '#libs/syrup/quantities/fill-readings.js';
import { type Field, duplicateLotMismatch, fillReadings, portions, type PortionRequest, splitList } from './fields.js';
import type { ParseOptions } from './parse-options.js';
import { faultyField, isParsedField, parsedField, type ParsedField } from './parsed-field.js';
import { readField } from './read-fields.js';
import { storedField, type StoredFields } from './stored-fields.js';
import { valueItems } from './value-text.js';

/** One item of a list in a stored record, as a correction replaces or removes it. */
export interface ListItem {
  /** In plain words: `176 °F, jar 1`, `52 gal of G002`. */
  readonly text: string;
  /** Where the stored list has it: one index, or two for a fill reading and the entry that its jars were poured back. */
  readonly indexes: readonly number[];
}

interface ListField {
  readonly name: string;
  readonly field: Field<unknown>;
  readonly saved: StoredFields;
}

/** The items of a list, to correct one and leave the others; none where the field is blank, no list or one of ticks. */
export function listItems({ name, field, saved }: ListField): readonly ListItem[] {
  if (!field.list || field.choices) return [];
  const texts = valueItems(field, saved, name);
  const readings = (field.read as unknown) === fillReadings ? storedList({ name, field, saved }) : undefined;
  if (!readings) return texts.map((text, index) => ({ text, indexes: [index] }));
  return listedReadings(readings as FillReading[]).map(({ index, pouredBackAt }) => ({
    text: texts[pouredBackAt ?? index] ?? '',
    indexes: pouredBackAt === undefined || pouredBackAt === index ? [index] : [index, pouredBackAt],
  }));
}

/**
 * The list with `value` in the place of one item, at its end where there is no item, or without the item where the value
 * is blank. Every other item keeps the value it was stored with. A reading whose jars were poured back stays so.
 */
export function withItem(
  list: ListField & { readonly options: ParseOptions },
  item: ListItem | undefined,
  value: string | ParsedField,
): string | ParsedField {
  const texts = splitList(list.saved.typed[list.name] ?? '');
  const stored = storedList(list);
  const added = value === '' ? { typed: '', values: [] } : parseItem(list, value);
  if ('faults' in added) return added.faults;
  const typed = replaced(texts, item, value === '' ? [] : [added.typed]).join(';');
  if (!stored || stored.length !== texts.length) return typed;
  const values =
    (list.field.read as unknown) === fillReadings
      ? replacedReadings(stored as FillReading[], item, added.values as FillReading[])
      : replaced(stored, item, added.values);
  if ((list.field.read as unknown) === fillReadings)
    return parsedField((values as FillReading[]).map((reading) => reading.typed).join(';'), values);
  const duplicate = duplicateLotMismatch(values as PortionRequest[]);
  return duplicate ? faultyField(typed, [duplicate.mismatch]) : parsedField(typed, values);
}

/** The stored values of readings and of portions; undefined for other lists, which are parsed from their text. */
function storedList({ name, field, saved }: ListField): readonly unknown[] | undefined {
  const read: unknown = field.read;
  if (read !== fillReadings && read !== portions) return undefined;
  const value = storedField(field, saved, name)?.result.value;
  return Array.isArray(value) ? (value as readonly unknown[]) : undefined;
}

function parseItem(
  { name, field, options }: ListField & { readonly options: ParseOptions },
  value: string | ParsedField,
) {
  const parsed = readField({ name, field, options, saved: { typed: {}, body: {} } }, value);
  const typed = isParsedField(value) ? value.typed : value;
  if (parsed && 'faults' in parsed) return { faults: faultyField(typed, parsed.faults) };
  const list: unknown = parsed?.value;
  return { typed: parsed?.typed ?? typed, values: Array.isArray(list) ? (list as readonly unknown[]) : [] };
}

function replaced<T>(all: readonly T[], item: ListItem | undefined, by: readonly T[]): T[] {
  const [at = all.length] = item?.indexes ?? [];
  const kept = (from: number, to: number): T[] =>
    all.slice(from, to).filter((_, n) => !item?.indexes.includes(from + n));
  return [...kept(0, at), ...by, ...kept(at, all.length)];
}

/** The entry that its jars were poured back names the reading by its values, so it changes with it. */
function replacedReadings(all: readonly FillReading[], item: ListItem | undefined, by: readonly FillReading[]) {
  const [at, pouredBackAt] = item?.indexes ?? [];
  const wasPouredBack = at !== undefined && (pouredBackAt !== undefined || all[at]?.pouredBack === true);
  const [first, ...more] = by;
  if (!wasPouredBack || !first || first.pouredBack) return replaced(all, item, by);
  if (pouredBackAt === undefined) return replaced(all, item, [withPouredBack(first), ...more]);
  const renamed = all.map((reading, index) => (index === pouredBackAt ? withPouredBack(first) : reading));
  return replaced(renamed, { text: '', indexes: [at] }, by);
}
