import { kindByName } from '#libs/actions/kinds/registry.js';
import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { momentIn } from '#libs/actions/record/times.js';
import { canonicalJson } from '#libs/store/log/canonical.js';
import type { NumberedEntry, RecordKind } from '#libs/records/entry.js';
import { entriesOfRecord } from '#libs/store/log/history-of-record.js';
import { findEntry } from '#libs/store/log/log.js';
import { leafHash } from '#libs/store/log/merkle.js';
import { findRecord, type KeptRecord } from '#libs/store/queries/lots.js';
import { askedAfter } from '../sent/after-sending.js';
import type { CheckBody, DispatchBody } from '#libs/records/record-types.js';
import { checkInDoubt } from './suspect-check.js';
import { formGround } from '../../forms/form-view.js';
import type { Visitor } from '../../http/principal.js';
import { signedOf } from '../../text/signed.js';
import { ledgerLines } from '../../text/history.js';
import { clock, dayWords } from '../../text/times.js';

/** One entry of the record log, in words and as it is hashed. */
export async function entryPage(who: Visitor, typed: string) {
  const seq = /^\d{1,9}$/.test(typed) ? Number(typed) : 0;
  const entry = await findEntry(who.book.read, seq);
  if (!entry || entry.sugarhouse !== who.desk.sugarhouse) return unknown('entry', typed) satisfies Refusal;
  const { manner } = await formGround(who);
  const now = momentIn(manner.zone, who.desk.now);
  const { seq: _seq, ...bare } = entry;
  const json = canonicalJson(bare);
  return {
    title: `Entry ${entry.seq}`,
    here: 'find',
    entry: entry.seq,
    ledger: ledgerLines(await before(who, entry), now).slice(-1),
    about: entry.about,
    record: entry.record && {
      kind: entry.record.kind,
      id: entry.record.id,
      words: kindByName.get(entry.record.kind)?.noun ?? entry.record.kind,
    },
    happened: `${dayWords(entry.happenedAt)} ${clock(entry.happenedAt)}`,
    typed: `${dayWords(entry.typedAt)} ${clock(entry.typedAt)}`,
    ...signedOf(entry),
    corrects: entry.corrects,
    json: JSON.stringify(JSON.parse(json), null, 2),
    leaf: leafHash(json),
  };
}

/** The entry after those of its record that came before it, so that a correction shows what it struck. */
async function before(who: Visitor, entry: NumberedEntry): Promise<readonly NumberedEntry[]> {
  if (!entry.record) return [entry];
  const all = await entriesOfRecord(who.book.read, who.desk.sugarhouse, entry.record.kind, entry.record.id);
  return all.filter((each) => each.seq <= entry.seq);
}

/** A record as it stands, with every entry that made it so. */
export async function recordPage(who: Visitor, kindName: RecordKind, id: string) {
  const kind = kindByName.get(kindName);
  const kept = kind && (await findRecord(who.book.read, who.desk.sugarhouse, kindName, id));
  if (!kind || !kept) return unknown(kind?.noun ?? 'record', id) satisfies Refusal;
  const { manner } = await formGround(who);
  const now = momentIn(manner.zone, who.desk.now);
  const history = await entriesOfRecord(who.book.read, who.desk.sugarhouse, kindName, id);
  return {
    title: `${kind.noun.charAt(0).toUpperCase()}${kind.noun.slice(1)} ${id}`,
    here: 'find',
    kind: kindName,
    id,
    lot: kept.lot,
    after: kindName === 'dispatch' ? await askedAfter(who, id, kept as KeptRecord<DispatchBody>) : undefined,
    doubt: kindName === 'check' ? await checkInDoubt(who, kept as KeptRecord<CheckBody>) : undefined,
    fields: Object.entries(kind.fields)
      .filter(([name]) => kept.typed[name] !== undefined)
      .map(([name, field]) => ({ label: field.label, typed: kept.typed[name] ?? '' })),
    ledger: ledgerLines(history, now).reverse(),
  };
}

const lotKinds: readonly RecordKind[] = ['gathering', 'receipt', 'boil', 'pack'];

/** The page on which a record is seen: its lot's, where it is one or speaks of one. */
export const whereShown = (kind: RecordKind, id: string, lot: string | undefined): string =>
  lotKinds.includes(kind)
    ? `/lots/${encodeURIComponent(id)}`
    : lot
      ? `/lots/${encodeURIComponent(lot)}`
      : `/records/${kind}/${encodeURIComponent(id)}`;
