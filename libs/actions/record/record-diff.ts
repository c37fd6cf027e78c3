import type { StoredRecord } from '#libs/store/queries/lots.js';
import type { Typed } from './fields.js';
import type { Kind } from './kind.js';
import type { RecordInput } from './parsed-field.js';

/**
 * Fields in which the request differs from the record, with both values. A code or id that the book assigned was never
 * typed: a request that names it, as an exported file does, doesn't differ.
 */
export function recordDifferences(kind: Kind, existing: Pick<StoredRecord, 'id' | 'typed'>, arrived: Typed) {
  const [named] = kind.idFields;
  const saved: Typed =
    named === undefined || existing.typed[named] !== undefined
      ? existing.typed
      : { ...existing.typed, [named]: existing.id };
  const normalizeSpace = (text: string | undefined): string => (text ?? '').replace(/\s+/g, ' ').trim();
  return Object.keys(kind.fields)
    .filter((name) => !(kind.idFields.includes(name) && normalizeSpace(arrived[name]) === ''))
    .filter((name) => normalizeSpace(saved[name]) !== normalizeSpace(arrived[name]))
    .map((name) => ({
      field: name,
      expected: `${saved[name] === undefined ? 'nothing' : `"${saved[name]}"`}, as recorded (or a correction with its reason)`,
      got: arrived[name] === undefined ? 'nothing' : `"${arrived[name]}"`,
    }));
}

/** A blank may be filled in and a list may grow; any other change is a correction and needs a reason. */
export function overwrittenFields(
  kind: Kind,
  existing: StoredRecord,
  differs: ReturnType<typeof recordDifferences>,
  options: { readonly add?: boolean | undefined },
) {
  return differs.filter(({ field }) => !options.add || (existing.typed[field] && !kind.fields[field]?.list));
}

/** Who did it and when, from the record, where the request leaves them blank. */
export function storedWhoAndWhen(saved: Typed, input: RecordInput): Typed {
  const blank = (value: unknown): boolean => value === undefined || (typeof value === 'string' && value.trim() === '');
  return Object.fromEntries(
    ['by', 'at'].flatMap((name) => (saved[name] !== undefined && blank(input[name]) ? [[name, saved[name]]] : [])),
  );
}
