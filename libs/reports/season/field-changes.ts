import type { FieldChange, VerdictChange } from './deviation.js';

type Typed = Readonly<Record<string, string>>;

/** Each field that a correction changed. Of a list only the parts that differ: `178 F` → `188 F`. */
export function fieldChanges(before: Typed, now: Typed): FieldChange[] {
  return [...new Set([...Object.keys(before), ...Object.keys(now)])]
    .filter((field) => (before[field] ?? '') !== (now[field] ?? ''))
    .map((field) => ({ field: fieldText(field), ...differing(field, before[field] ?? '', now[field] ?? '') }));
}

/** fillTemps → fill temps */
export const fieldText = (field: string): string => field.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);

/** `fill temps 178 F → 188 F` */
const changeText = ({ field, was, now }: FieldChange): string =>
  `${field} ${was ?? 'not recorded'} → ${now ?? 'not recorded'}`;

/** `fill temps 178 F → 188 F; by WE → OE` */
export const formatChanges = (change: VerdictChange): string => change.changes.map(changeText).join('; ');

const lists = new Set(['fillTemps', 'gatherings', 'carriedFrom', 'fromLots', 'codes', 'instruments']);

function differing(field: string, was: string, now: string): { was: string | null; now: string | null } {
  if (!lists.has(field)) return { was: was || null, now: now || null };
  const [before, after] = [partsOf(was), partsOf(now)];
  return { was: less(before, after).join('; ') || null, now: less(after, before).join('; ') || null };
}

const partsOf = (list: string): string[] =>
  list
    .split(/[;|\n]/)
    .map((part) => part.trim())
    .filter((part) => part !== '');

/** Items of one list that the other lacks; of an item that is there twice, one is left. */
function less(list: readonly string[], other: readonly string[]): string[] {
  const left = [...other];
  return list.filter((part) => {
    const at = left.indexOf(part);
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
}
