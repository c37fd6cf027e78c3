import type { EntryType, NumberedEntry, RecordRow } from '#libs/records/entry.js';
import { kindByName } from '../kinds/registry.js';
import { changedFields } from '../record/changed-fields.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { fieldText } from '#libs/reports/season/field-changes.js';
import type { HistoryLine, LateEntry } from '#libs/reports/season/lot.js';
import { many } from '#libs/format/format.js';

/** An entry typed more than this after it happened is marked late. */
const lateAfterHours = 24;

/** A lot's history: one line per entry, for a correction one line per changed field. */
export function historyLines(entries: readonly NumberedEntry[], ownKind: RecordKind): HistoryLine[] {
  const recordBefore = new Map<string, RecordRow>();
  return entries.flatMap((entry) => {
    const key = entry.record ? `${entry.record.kind} ${entry.record.id}` : '';
    const before = recordBefore.get(key);
    if (entry.record) recordBefore.set(key, entry.record);
    if (entry.record && before && (entry.entryType === 'correct' || entry.entryType === 'add'))
      return changeLines(entry, entry.record, before);
    return [{ ...plainLine(entry), words: entryText(entry, ownKind) }];
  });
}

/** Original entries typed more than a day after what they record, with the delay in whole hours. */
export function lateEntries(entries: readonly NumberedEntry[]): LateEntry[] {
  return entries
    .filter((entry) => entry.entryType === 'record' || entry.entryType === 'act')
    .map((entry) => ({
      field: entry.record?.kind ?? entry.entryType,
      happenedAt: entry.happenedAt,
      typedAt: entry.typedAt,
      hoursLate: Math.floor((Date.parse(entry.typedAt) - Date.parse(entry.happenedAt)) / 3_600_000),
    }))
    .filter((late) => late.hoursLate > lateAfterHours);
}

function changeLines(entry: NumberedEntry, record: RecordRow, before: RecordRow): HistoryLine[] {
  const fields = kindByName.get(record.kind)?.fields ?? {};
  return changedFields(fields, before, record).map(({ name, was, now }) => ({
    ...plainLine(entry),
    words: before.typed[name] === undefined ? `${fieldText(name)} ${now.join('; ')}` : fieldText(name),
    field: fieldText(name),
    was: was.join('; ') || null,
    now: now.join('; ') || null,
  }));
}

const plainLine = (entry: NumberedEntry): HistoryLine => ({
  entry: entry.seq,
  at: entry.typedAt,
  by: entry.by,
  kind: kinds[entry.entryType],
  words: '',
  field: null,
  was: null,
  now: null,
  why: entry.why ?? null,
});

const kinds: Readonly<Record<EntryType, HistoryLine['kind']>> = {
  record: 'written',
  add: 'written',
  correct: 'corrected',
  hold: 'held',
  act: 'acted',
  release: 'released',
  recall: 'recalled',
  void: 'corrected',
  photo: 'written',
};

function entryText(entry: NumberedEntry, ownKind: RecordKind): string {
  const typed = entry.record?.typed ?? {};
  switch (entry.record?.kind) {
    case undefined:
      if (entry.voids) return `Voided: ${entry.voids.kind} ${entry.voids.id}`;
      return { hold: 'Held', release: 'Released', recall: 'Recalled' }[entry.entryType as string] ?? entry.entryType;
    case ownKind:
      return 'Recorded';
    case 'pack':
      return `Drawn into ${entry.record?.id}`;
    case 'dispatch':
      return dispatchText(typed);
    case 'count':
      return `Counted: ${typed['jars'] ?? ''} on the shelf`;
    case 'action':
      return `Found: ${typed['found'] ?? ''}. Done: ${typed['done'] ?? ''}`;
    case 'spent':
      return `Used or thrown out: ${typed['volume'] || 'all that was left'}, ${typed['how'] ?? ''}`;
    case 'draw':
      return `Drew off ${typed['volume'] ?? ''}`;
    case 'labels':
      return `Labels ${typed['what'] ?? 'printed'}: ${typed['from'] ?? ''} to ${typed['to'] ?? ''}`;
    case 'line':
      return [typed['what'], typed['pan'], typed['temperature'], typed['density'], typed['note']]
        .filter(Boolean)
        .join(', ');
    default:
      return otherText(entry.record, typed);
  }
}

/** `12 jars, sale, to Millrace Green` · `2 jars (K7QM-3XWT, …), returned by …` · `1 jar, retained: cellar shelf` */
function dispatchText(typed: Readonly<Record<string, string>>): string {
  const { jars = '', to = '' } = typed;
  const kind = typed['kind'] || 'sale';
  const codes = jars.split(';').map((code) => code.trim());
  const isCount = /^\d+$/.test(jars.trim());
  const jarText = isCount
    ? many(Number(jars), 'jar')
    : /^jars? /i.test(jars)
      ? jars
      : `${many(codes.length, 'jar')} (${codes.join(', ')})`;
  if (kind === 'returned') return `${jarText}, returned by ${to}`;
  return ['sale', 'gift', 'sample'].includes(kind) ? `${jarText}, ${kind}, to ${to}` : `${jarText}, ${kind}: ${to}`;
}

function otherText(record: NumberedEntry['record'], typed: Readonly<Record<string, string>>): string {
  const noun = record ? (kindByName.get(record.kind)?.noun ?? record.kind) : '';
  const text = typed['said'] ?? typed['what'] ?? '';
  return `${noun.charAt(0).toUpperCase()}${noun.slice(1)}${text === '' ? '' : `: ${text}`}`;
}
