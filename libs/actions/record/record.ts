import { randomBytes } from 'node:crypto';
import { canonicalJson, hashOf } from '#libs/store/log/canonical.js';
import type { EntryType, Entry, AllocatedJars, NumberedEntry, RecordRow } from '#libs/records/entry.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';
import { findSent } from '#libs/store/log/log.js';
import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { addsLine, changedSince, recordChangedSince } from './concurrency-check.js';
import { clockProblem } from './clock.js';
import { type WriteContext, type SugarhouseContext, loadSugarhouseContext } from './write-context.js';
import type { Typed } from './fields.js';
import { type SentFields, sentTexts } from './parsed-field.js';
import { readFields, withAdded } from './read-fields.js';
import { allocateJarCodes } from './allocate-jar-codes.js';
import { judgeWithAffected } from '../lots/judge-lots.js';
import type { Kind, PreparedRecord } from './kind.js';
import { affectedLots } from './affected-lots.js';
import { type Problem, type Refusal, unknown } from './problem.js';
import { findExistingRecord, freeId, idTaken } from './find-existing-record.js';
import type { ParseOptions } from './parse-options.js';
import { momentIn } from './times.js';
import { differences, storedWhoAndWhen, writtenOver } from './record-diff.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export interface Recorded {
  /** Its sequence number in the log. */
  readonly entry: number;
  /** The lot code, or the record's own id. */
  readonly id: string;
  /** `new`; or nothing was written: `again` for a repeated request, `same` where the record already holds this. */
  readonly outcome: 'new' | 'added' | 'corrected' | 'again' | 'same';
  /** What the first request did, of a repeated one. */
  readonly first?: 'new' | 'added' | 'corrected';
  readonly notes: readonly string[];
}

export interface RecordOptions {
  /** Correct the existing record, for this reason. */
  readonly why?: string | undefined;
  /** Fill in what was left blank, or add to a list. */
  readonly add?: boolean | undefined;
  /** The id of the record to correct or add to. */
  readonly of?: string | undefined;
  /** Who corrects, where the context's initials are those of whoever did it: a row of a file has its own. */
  readonly corrector?: string | undefined;
}

/** Writes one record: every form, request, command and file row goes through this function. */
export function record(
  book: Book,
  context: WriteContext,
  kind: Kind,
  sent: SentFields,
  recordOptions: RecordOptions = {},
): Promise<Recorded | Refusal> {
  return book.write((tx) => recordOn(tx, context, kind, sent, recordOptions));
}

/** The same inside an open write transaction, for several at once: all of them or none. */
export async function recordOn(
  tx: WriteTransaction,
  context: WriteContext,
  kind: Kind,
  sent: SentFields,
  recordOptions: RecordOptions = {},
): Promise<Recorded | Refusal> {
  const sentHash = hashOf(
    canonicalJson({
      kind: kind.kind,
      sent: sentTexts(sent),
      why: recordOptions.why ?? null,
      of: recordOptions.of ?? null,
    }),
  );
  const key = context.key ?? `${context.author}:${randomBytes(16).toString('hex')}`;
  const before =
    context.key === undefined || context.isNew
      ? undefined
      : await findSent(sugarhouseReader(tx.sql, context.sugarhouse), context.author, key);
  if (before) return sentBefore(before, sentHash);

  const houseContext = context.houseContext ?? (await loadSugarhouseContext(tx.sql, context));
  const clock = context.houseContext ? undefined : await clockProblem(tx.sql, context, houseContext);
  if (clock) return clock;
  const existing = context.isNew
    ? undefined
    : await findExistingRecord(sugarhouseReader(tx.sql, context.sugarhouse), kind, sent, recordOptions);
  if (recordOptions.of !== undefined && !existing) return unknown(kind.noun, recordOptions.of);
  // A lot's own record is found by its code; a record about a lot names it.
  const onlyAddsLine = addsLine(kind.kind, !existing, recordOptions.add ? Object.keys(sent) : undefined);
  const changed = existing && (await recordChangedSince(tx.sql, context, existing, onlyAddsLine));
  if (changed) return changed;
  const fields = existing
    ? fieldsToRead(kind, existing, sent, { ...recordOptions, parse: houseContext.parseOptions })
    : sent;
  const read = readFields(kind.fields, fields, houseContext.parseOptions, existing);
  if ('faults' in read) return { problem: { kind: 'invalid', faults: read.faults } };
  if (existing) {
    const differs = differences(kind, existing, read.typed);
    if (differs.length === 0) return { entry: existing.lastSeq, id: existing.id, outcome: 'same', notes: [] };
    const over = recordOptions.why === undefined ? writtenOver(kind, existing, differs, recordOptions) : [];
    if (over.length > 0) return { problem: { kind: 'invalid', faults: over } };
  }
  const first = existing
    ? { by: existing.writtenBy, at: existing.writtenAt }
    : { by: context.by, at: momentIn(houseContext.parseOptions.zone, context.now) };
  const answer = await kind.prepare({ sql: tx.sql, writeContext: context, houseContext, first }, read, existing);
  if ('problem' in answer) return answer;
  const prepared = alsoOf(existing?.lot, answer);
  const changedByOthers =
    !existing && prepared.lot !== undefined && (await changedSince(tx.sql, context, prepared.lot, onlyAddsLine));
  if (changedByOthers) return changedByOthers;
  const id = prepared.id || (await freeId(sugarhouseReader(tx.sql, context.sugarhouse), kind));
  const taken = existing ? undefined : await idTaken(sugarhouseReader(tx.sql, context.sugarhouse), kind, id);
  if (taken) return taken;

  const entryType: EntryType =
    kind.kind === 'action' && !existing ? 'act' : !existing ? 'record' : recordOptions.add ? 'add' : 'correct';
  const jars =
    prepared.jars === undefined
      ? undefined
      : await allocateJarCodes(
          sugarhouseReader(tx.sql, context.sugarhouse),
          { pack: id, jars: prepared.jars, mayHaveCodes: existing !== undefined },
          context.seeds,
        );
  const entry = await tx.append(
    entryOf(context, houseContext, {
      entryType,
      key,
      sentHash,
      kind,
      id,
      prepared,
      typed: read.typed,
      jars,
      existing,
      options: recordOptions,
    }),
    async (sql) => {
      const touched = await affectedLots({
        sql,
        sugarhouse: context.sugarhouse,
        kind,
        prepared,
        before: existing,
      });
      const judging = {
        sql,
        sugarhouse: context.sugarhouse,
        // The house's own record changes the rules: lots are judged by those in it.
        houseContext: kind.kind === 'house' ? await loadSugarhouseContext(sql, context) : houseContext,
        at: entryType === 'correct' ? momentIn(houseContext.parseOptions.zone, context.now) : prepared.happenedAt,
        entryType,
        isDispatch: kind.kind === 'dispatch',
        addedWhenFinished: entryType === 'add' && existing?.kind === 'pack' && existing.body.jars !== undefined,
      };
      return judgeWithAffected(judging, prepared.judge, touched);
    },
  );
  return { entry, id, outcome: existing ? (recordOptions.add ? 'added' : 'corrected') : 'new', notes: prepared.notes };
}

function fieldsToRead(
  kind: Kind,
  saved: StoredRecord,
  sent: SentFields,
  { add, why, of, parse }: RecordOptions & { readonly parse: ParseOptions },
): SentFields {
  if (add) return withAdded(kind.fields, saved, sent, parse);
  // A file row that corrects a record and leaves who or when blank changes neither.
  return why !== undefined && of === undefined ? { ...sent, ...storedWhoAndWhen(saved.typed, sent) } : sent;
}

interface Parts {
  readonly entryType: EntryType;
  readonly key: string;
  readonly sentHash: string;
  readonly kind: Kind;
  readonly id: string;
  readonly prepared: PreparedRecord;
  readonly typed: Typed;
  readonly jars: AllocatedJars | undefined;
  readonly existing: StoredRecord | undefined;
  readonly options: RecordOptions;
}

function entryOf(context: WriteContext, houseContext: SugarhouseContext, parts: Parts): Entry {
  const { prepared, existing, options: recordOptions } = parts;
  return {
    format: 1,
    sugarhouse: context.sugarhouse,
    entryType: parts.entryType,
    by: (existing && recordOptions.corrector) || context.by,
    happenedAt: prepared.happenedAt,
    typedAt: momentIn(houseContext.parseOptions.zone, context.now),
    author: context.author,
    key: parts.key,
    sent: parts.sentHash,
    about: [...new Set(prepared.about)],
    record: {
      kind: parts.kind.kind,
      id: parts.id,
      ownId: prepared.ownId,
      lot: prepared.lot,
      typed: parts.typed,
      body: prepared.body,
    } as RecordRow,
    jars: parts.jars,
    corrects: existing?.lastSeq,
    why: recordOptions.why,
    from: context.from,
  };
}

/** A record moved from one lot to another is about both, and both are judged. */
function alsoOf(lot: string | undefined, prepared: PreparedRecord): PreparedRecord {
  if (lot === undefined || lot === prepared.lot) return prepared;
  return { ...prepared, about: [...prepared.about, lot], judge: [...prepared.judge, lot] };
}

function sentBefore(before: NumberedEntry, sentHash: string): Recorded | Refusal {
  if (before.sent !== sentHash)
    return { problem: { kind: 'key-used', entry: before.seq, by: before.by, at: before.typedAt } satisfies Problem };
  const first = before.entryType === 'add' ? 'added' : before.entryType === 'correct' ? 'corrected' : 'new';
  return { entry: before.seq, id: before.record?.id ?? before.about[0] ?? '', outcome: 'again', first, notes: [] };
}
