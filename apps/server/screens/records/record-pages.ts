import { valueItems } from '#libs/actions/record/value-text.js';
import { kindByName, writtenByProgram } from '#libs/actions/kinds/registry.js';
import { supportingRecordKinds } from '#libs/actions/kinds/supporting-records.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { momentIn } from '#libs/actions/record/times.js';
import { entryJson, type StoredEntry } from '#libs/store/log/entry-json.js';
import type { NumberedEntry } from '#libs/records/entry.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { entriesOfRecord } from '#libs/store/log/history-of-record.js';
import { photosOf } from '#libs/store/household/attachments.js';
import { findEntry } from '#libs/store/log/log.js';
import { leafHash } from '#libs/store/log/merkle.js';
import { findRecord, type StoredRecord } from '#libs/store/queries/lots.js';
import { dispatchFollowUps } from '../dispatches/dispatch-follow-ups.js';
import { suspectCheck } from './suspect-check.js';
import { formContext } from '../../forms/form-view.js';
import { mayWrite } from '../../http/may-write.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { photoRows } from '../../text/photo-rows.js';
import { signedOf } from '../../text/signed.js';
import { historyLinesOf } from '../../text/history.js';
import { clock, dayText } from '../../text/times.js';

/** One entry of the record log: as text, and in the form that is hashed. */
export async function entryPage(principal: Principal, typed: string) {
  const seq = /^\d{1,9}$/.test(typed) ? Number(typed) : 0;
  const entry = await findEntry(principal.book.read, seq);
  if (!entry || entry.sugarhouse !== principal.writeContext.sugarhouse)
    return unknown('entry', typed) satisfies Refusal;
  const { parseOptions: options } = await formContext(principal);
  const now = momentIn(options.zone, principal.writeContext.now);
  const { seq: _seq, ...unnumbered } = entry;
  const json = entryJson(unnumbered);
  return {
    title: `Entry ${entry.seq}`,
    here: 'find',
    entry: entry.seq,
    history: historyLinesOf(await entryAndEarlier(principal, entry), now).slice(-1),
    about: entry.about,
    record: entry.record && {
      kind: entry.record.kind,
      id: entry.record.id,
      name: capital(
        recordName(
          kindByName.get(entry.record.kind) ?? { kind: entry.record.kind, noun: entry.record.kind },
          entry.record.id,
        ),
      ),
    },
    happened: `${dayText(entry.happenedAt)} ${clock(entry.happenedAt)}`,
    typed: `${dayText(entry.typedAt)} ${clock(entry.typedAt)}`,
    ...signedOf(entry),
    corrects: entry.corrects,
    json: JSON.stringify(withoutSeed(JSON.parse(json) as StoredEntry), null, 2),
    withoutSeed: entry.jars !== undefined,
    leaf: leafHash(json),
  };
}

/** Whoever has the seed can calculate the code of each jar of the pack, so only the owner's export of the log has it. */
function withoutSeed(entry: StoredEntry): object {
  if (!entry.jars) return entry;
  const { seed: _seed, ...jars } = entry.jars;
  return { ...entry, jars };
}

/** The entry after earlier ones of its record, so that a correction shows the old value. */
async function entryAndEarlier(principal: Principal, entry: NumberedEntry): Promise<readonly NumberedEntry[]> {
  if (!entry.record) return [entry];
  const all = await entriesOfRecord(readerOf(principal), entry.record.kind, entry.record.id);
  return all.filter((each) => each.seq <= entry.seq);
}

/** A record with all of its entries. */
export async function recordPage(principal: Principal, kindName: RecordKind, id: string) {
  const kind = kindByName.get(kindName);
  const saved = kind && (await findRecord(readerOf(principal), kindName, id));
  if (!kind || !saved) return unknown(kind?.noun ?? 'record', id) satisfies Refusal;
  const { parseOptions: options } = await formContext(principal);
  const now = momentIn(options.zone, principal.writeContext.now);
  const history = await entriesOfRecord(readerOf(principal), kindName, id);
  return {
    title: capital(recordName(kind, id)),
    here: 'find',
    kind: kindName,
    id,
    back: backLink(kindName, saved.lot),
    followUp:
      kindName === 'dispatch' ? await dispatchFollowUps(principal, id, saved as StoredRecord<'dispatch'>) : undefined,
    suspect: kindName === 'check' ? await suspectCheck(principal, saved as StoredRecord<'check'>) : undefined,
    fields: Object.entries(kind.fields)
      .filter(([name]) => saved.typed[name] !== undefined)
      .map(([name, field]) => ({ label: field.label, typed: valueItems(field, saved, name).join(' · ') })),
    history: historyLinesOf(history, now).reverse(),
    photos: photoRows(await photosOf(readerOf(principal), kindName, id)),
    addPhoto: mayWrite(principal, 'photo') ? `/photos/of/${kindName}/${encodeURIComponent(id)}` : undefined,
  };
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A record by its kind and id; of the sugarhouse's own record there is only one. */
export const recordName = ({ kind, noun }: Pick<Kind, 'kind' | 'noun'>, id: string): string =>
  kind === 'house' ? 'the sugarhouse' : `${noun} ${id}`;

/** Where a record's page links back to: its lot, else the list of its kind. */
function backLink(kind: RecordKind, lot: string | undefined): { readonly href: string; readonly text: string } {
  if (lot !== undefined) return { href: `/lots/${encodeURIComponent(lot)}`, text: lot };
  if (kind === 'house') return { href: '/house', text: 'The sugarhouse' };
  if (kind === 'dispatch') return { href: '/dispatches', text: 'Sent out' };
  const supporting = supportingRecordKinds.find((each) => each.kind === kind && !writtenByProgram.includes(kind));
  return supporting
    ? { href: `/supporting-records/${supporting.plural}`, text: capital(supporting.plural.replaceAll('-', ' ')) }
    : { href: '/history', text: 'Record log' };
}

const lotKinds: readonly RecordKind[] = ['gathering', 'receipt', 'boil', 'pack'];

/** The page that shows a record: its lot's page, if it is one or is about one. */
export const recordAddress = (kind: RecordKind, id: string, lot: string | undefined): string =>
  lotKinds.includes(kind)
    ? `/lots/${encodeURIComponent(id)}`
    : lot
      ? `/lots/${encodeURIComponent(lot)}`
      : `/records/${kind}/${encodeURIComponent(id)}`;
