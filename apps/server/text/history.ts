import { capital } from './capital.js';
import type { Fields } from '#libs/actions/record/fields.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { changedFields } from '#libs/actions/record/changed-fields.js';
import { valueItems } from '#libs/actions/record/value-text.js';
import type { NumberedEntry, RecordRow } from '#libs/records/entry.js';
import type { HistoryLine } from '#pages/parts/history.js';
import { signedOf } from './signed.js';
import { clock, dayText, elapsed } from './times.js';

/** Fields that a later correction changed, with their present values in plain words. */
type CorrectedFields = Readonly<Record<string, string>>;

/**
 * Entries of a lot, oldest first, as lines of its history. A value that a later entry corrected is struck through; the
 * correcting line shows the new value above the old.
 */
export function historyLinesOf(entries: readonly NumberedEntry[], now: string): HistoryLine[] {
  const earlierVersion = new Map<string, RecordRow>();
  const entriesByRecord = groupByRecord(entries);
  const voided = new Set(entries.flatMap(({ voids }) => (voids ? [keyOf(voids)] : [])));
  return entries.map((entry) => {
    const { record } = entry;
    const key = record && keyOf(record);
    const previous = key === undefined ? undefined : earlierVersion.get(key);
    if (record && key) earlierVersion.set(key, record);
    const fields = record ? (kindByName.get(record.kind)?.fields ?? {}) : {};
    const isChange = entry.entryType === 'correct' || entry.entryType === 'add';
    return {
      entry: entry.seq,
      clock: clock(lineTime(entry)),
      day: dayText(lineTime(entry), now),
      ...signedOf(entry),
      text: `${lineText(entry)}${key !== undefined && voided.has(key) ? ' Voided later.' : ''}`,
      late: lateText(entry),
      from: entry.from === undefined ? undefined : `copied from ${entry.from}`,
      why: entry.why,
      readings:
        record && !isChange ? readings(fields, record, correctedLater(entry, record, entriesByRecord, fields)) : [],
      changes: record && isChange && previous ? changes(fields, previous, record) : [],
      correct:
        record && kindByName.has(record.kind) && !voided.has(keyOf(record))
          ? { href: `/records/${record.kind}/${encodeURIComponent(record.id)}/correct`, kind: record.kind }
          : undefined,
    };
  });
}

/** An addition or correction carries its record's time; its line shows when it was written. */
const lineTime = (entry: NumberedEntry): string =>
  entry.entryType === 'add' || entry.entryType === 'correct' ? entry.typedAt : entry.happenedAt;

const keyOf = ({ kind, id }: { readonly kind: string; readonly id: string }): string => `${kind}/${id}`;

function groupByRecord(entries: readonly NumberedEntry[]): Map<string, NumberedEntry[]> {
  const byKey = new Map<string, NumberedEntry[]>();
  for (const entry of entries)
    if (entry.record) {
      const records = byKey.get(keyOf(entry.record));
      if (records) records.push(entry);
      else byKey.set(keyOf(entry.record), [entry]);
    }
  return byKey;
}

/** Fields that later corrections of the record changed, with their present text; blank where it was removed. */
function correctedLater(
  entry: NumberedEntry,
  first: RecordRow,
  entriesByRecord: ReadonlyMap<string, readonly NumberedEntry[]>,
  fields: Fields,
): CorrectedFields {
  const corrected: Record<string, string> = {};
  let version = first;
  for (const { seq, entryType, record } of entriesByRecord.get(keyOf(first)) ?? []) {
    if (seq <= entry.seq || !record) continue;
    for (const name of Object.keys(version.typed))
      if (entryType === 'correct' && record.typed[name] !== version.typed[name])
        corrected[name] = listed(valueItems(fields[name], record, name));
    version = record;
  }
  return corrected;
}

/** Written more than two hours after it happened: shown with the delay. */
export function lateText(entry: Pick<NumberedEntry, 'happenedAt' | 'typedAt' | 'entryType'>): string | undefined {
  if (entry.entryType !== 'record' && entry.entryType !== 'act') return undefined;
  const late = Date.parse(entry.typedAt) - Date.parse(entry.happenedAt);
  return late > 2 * 3_600_000 ? elapsed(entry.happenedAt, entry.typedAt) : undefined;
}

const statusText = {
  hold: 'Held.',
  act: 'Corrective action.',
  release: 'Released.',
  recall: 'Recalled.',
} as const;

const recordText: Readonly<Record<string, string>> = {
  gathering: 'Gathered.',
  receipt: 'Received.',
  boil: 'Boil started.',
  pack: 'Pack started.',
  draw: 'Drawn off.',
  dispatch: 'Jars sent out.',
  count: 'Counted.',
  spent: 'Used or thrown out.',
  action: 'Corrective action.',
  labels: 'Labels.',
  complaint: 'Complaint.',
};

/** An entry in a few words: what was done, and to which record. */
export function lineText(entry: NumberedEntry): string {
  const { entryType, record } = entry;
  if (entryType === 'hold' || entryType === 'act' || entryType === 'release' || entryType === 'recall')
    return statusText[entryType];
  if (entry.voids)
    return `Voided: ${kindByName.get(entry.voids.kind)?.noun ?? entry.voids.kind} ${entry.voids.id} did not happen.`;
  if (entry.photo) return entry.photo.caption === '' ? 'Photo added.' : `Photo added: ${entry.photo.caption}`;
  if (!record) return 'Recorded.';
  const noun = kindByName.get(record.kind)?.noun ?? record.kind;
  if (entryType === 'correct') return `Corrected: ${noun} ${record.id}.`;
  if (entryType === 'add') return `Added to ${noun} ${record.id}.`;
  const { typed } = record;
  if (record.kind === 'boil' && typed['syrupVolume'] !== undefined) return 'Boil entered from paper.';
  if (record.kind === 'pack' && typed['jars'] !== undefined) return 'Pack entered from paper.';
  if (record.kind === 'line') return `${capital((typed['what'] ?? 'reading').replaceAll('-', ' '))}.`;
  return recordText[record.kind] ?? `${capital(noun)}.`;
}

/** Names, ids and times are elsewhere on the line. */
const shownElsewhere = new Set([
  'id',
  'lot',
  'by',
  'boil',
  'at',
  'what',
  'beganAt',
  'packedAt',
  'gatheredAt',
  'receivedAt',
  'drawnAt',
  'sentAt',
  'countedAt',
]);

const readings = (fields: Fields, record: RecordRow, corrected: CorrectedFields) =>
  Object.keys(fields)
    .filter((name) => record.typed[name] !== undefined && !shownElsewhere.has(name))
    .map((name) => ({
      label: fields[name]?.label ?? name,
      typed: listed(valueItems(fields[name], record, name)),
      now: corrected[name] === undefined ? undefined : corrected[name] || 'struck out',
    }));

const changes = (fields: Fields, was: RecordRow, now: RecordRow) =>
  changedFields(fields, was, now, Object.keys(fields)).map((change) => ({
    label: fields[change.name]?.label ?? change.name,
    was: listed(change.was),
    now:
      listed(change.now) ||
      (was.typed[change.name] === undefined || now.typed[change.name] !== undefined ? '' : 'left blank'),
  }));

const listed = (items: readonly string[]): string => items.join(' · ');
