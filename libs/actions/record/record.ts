import { randomBytes } from 'node:crypto';
import { canonicalJson, hashOf } from '#libs/store/log/canonical.js';
import { utcOf } from '#libs/store/connection/instants.js';
import type { EntryType, Entry, AllocatedJars, NumberedEntry, RecordRow } from '#libs/records/entry.js';
import type { StoredRecord } from '#libs/store/queries/lots.js';
import { findSent } from '#libs/store/log/log.js';
import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { addsLine, refuseIfChanged, refuseIfRecordChanged } from './concurrency-check.js';
import { refuseWrongClock } from './clock.js';
import { type WriteContext, type SugarhouseContext, loadSugarhouseContext } from './write-context.js';
import type { Fields, Typed } from './fields.js';
import { type RecordInput, inputTexts } from './parsed-field.js';
import { readFields, mergeAdditions } from './read-fields.js';
import { allocateJarCodes } from './allocate-jar-codes.js';
import { judgeWithAffected } from '../judging/judge-lots.js';
import type { Kind, PreparedRecord } from './kind.js';
import { affectedLots } from './affected-lots.js';
import { type Problem, type Refusal, unknown } from './problem.js';
import { findExistingRecord, nextFreeId, refuseTakenId } from './find-existing-record.js';
import type { ParseOptions } from './parse-options.js';
import { momentIn } from './times.js';
import { recordDifferences, storedWhoAndWhen, overwrittenFields } from './record-diff.js';
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
  input: RecordInput,
  recordOptions: RecordOptions = {},
): Promise<Recorded | Refusal> {
  return book.write((tx) => recordInTransaction(tx, context, kind, input, recordOptions));
}

/** The same inside an open write transaction, for several at once: all of them or none. */
export async function recordInTransaction(
  tx: WriteTransaction,
  context: WriteContext,
  kind: Kind,
  input: RecordInput,
  options: RecordOptions = {},
): Promise<Recorded | Refusal> {
  const reader = sugarhouseReader(tx.sql, context.sugarhouse);
  const requestHash = hashRequest(kind, input, options);
  const key = context.key ?? `${context.author}:${randomBytes(16).toString('hex')}`;
  const isKeyUnused = context.key === undefined || context.isNew;
  const earlier = isKeyUnused ? undefined : await findSent(reader, context.author, key);
  if (earlier) return repeatedResult(earlier, requestHash);

  const houseContext = context.houseContext ?? (await loadSugarhouseContext(tx.sql, context));
  const clock = context.houseContext ? undefined : await refuseWrongClock(tx.sql, context, houseContext);
  if (clock) return clock;
  const existing = context.isNew ? undefined : await findExistingRecord(reader, kind, input, options);
  if (options.of !== undefined && !existing) return unknown(kind.noun, options.of);
  // A lot's own record is found by its code; a record about a lot names it.
  const onlyAddsLine = addsLine(kind.kind, !existing, options.add ? Object.keys(input) : undefined);
  const changed = existing && (await refuseIfRecordChanged(tx.sql, context, existing, onlyAddsLine));
  if (changed) return changed;

  const request = { kind, existing, options };
  const parsed = (existing ? undefined : context.readAsNew) ?? parseInput(request, input, houseContext.parseOptions);
  if ('problem' in parsed || 'outcome' in parsed) return parsed;
  const prepared = await prepareRecord(tx, { ...request, context, houseContext, onlyAddsLine }, parsed);
  if ('problem' in prepared) return prepared;
  const entry = await appendRecord(tx, context, houseContext, {
    ...request,
    key,
    requestHash,
    prepared,
    typed: parsed.typed,
  });
  const outcome = existing ? (options.add ? 'added' : 'corrected') : 'new';
  return { entry, id: prepared.id, outcome, notes: prepared.notes };
}

/** Identifies a repeated request: the same key with another hash is another request. */
const hashRequest = (kind: Kind, input: RecordInput, { why, of }: RecordOptions): string =>
  hashOf(canonicalJson({ kind: kind.kind, sent: inputTexts(input), why: why ?? null, of: of ?? null }));

interface RecordRequest {
  readonly kind: Kind;
  /** The record that is corrected or added to. */
  readonly existing: StoredRecord | undefined;
  readonly options: RecordOptions;
}

type ParsedInput = Exclude<ReturnType<typeof readFields<Fields>>, { faults: unknown }>;

/** The fields' texts and values; `same` where the record already holds them, a refusal where they overwrite it. */
function parseInput(
  { kind, existing, options }: RecordRequest,
  input: RecordInput,
  parse: ParseOptions,
): ParsedInput | Recorded | Refusal {
  const fields = existing ? fieldsToRead(kind, existing, input, { ...options, parse }) : input;
  const parsed = readFields(kind.fields, fields, parse, existing);
  if ('faults' in parsed) return { problem: { kind: 'invalid', faults: parsed.faults } };
  if (!existing) return parsed;
  const differs = recordDifferences(kind, existing, parsed.typed);
  if (differs.length === 0) return { entry: existing.lastSeq, id: existing.id, outcome: 'same', notes: [] };
  const overwritten = options.why === undefined ? overwrittenFields(kind, existing, differs, options) : [];
  return overwritten.length > 0 ? { problem: { kind: 'invalid', faults: overwritten } } : parsed;
}

/** Completes the record with the book's data and gives it an id; a refusal where its lot changed or the id is taken. */
async function prepareRecord(
  tx: WriteTransaction,
  {
    kind,
    existing,
    context,
    houseContext,
    onlyAddsLine,
  }: RecordRequest & {
    readonly context: WriteContext;
    readonly houseContext: SugarhouseContext;
    readonly onlyAddsLine: boolean;
  },
  parsed: ParsedInput,
): Promise<PreparedRecord | Refusal> {
  const reader = sugarhouseReader(tx.sql, context.sugarhouse);
  const first = existing
    ? { by: existing.writtenBy, at: existing.writtenAt }
    : { by: context.by, at: momentIn(houseContext.parseOptions.zone, context.now) };
  const answer = await kind.prepare({ reader, writeContext: context, houseContext, first }, parsed, existing);
  if ('problem' in answer) return answer;
  const prepared = withPreviousLot(existing?.lot, answer);
  const changed =
    !existing && prepared.lot !== undefined && (await refuseIfChanged(tx.sql, context, prepared.lot, onlyAddsLine));
  if (changed) return changed;
  const id = prepared.id || (await nextFreeId(reader, kind));
  const taken = existing ? undefined : await refuseTakenId(reader, kind, id);
  return taken ?? { ...prepared, id };
}

/** Appends the entry, puts the record into the index and judges its lots and those it affects; returns the entry. */
async function appendRecord(
  tx: WriteTransaction,
  context: WriteContext,
  houseContext: SugarhouseContext,
  parts: Omit<EntryParts, 'entryType' | 'jars'>,
): Promise<number> {
  const { kind, prepared, existing, options } = parts;
  const entryType: EntryType =
    kind.kind === 'action' && !existing ? 'act' : !existing ? 'record' : options.add ? 'add' : 'correct';
  const jars =
    prepared.jars === undefined
      ? undefined
      : await allocateJarCodes(
          sugarhouseReader(tx.sql, context.sugarhouse),
          { pack: prepared.id, jars: prepared.jars, mayHaveCodes: existing !== undefined },
          context.seeds,
        );
  return tx.append(recordEntry(context, houseContext, { ...parts, entryType, jars }), async (sql) => {
    const { sugarhouse } = context;
    const affected = await affectedLots({
      sql,
      sugarhouse,
      kind,
      prepared,
      before: existing,
      nowUtc: utcOf(context.now),
    });
    const judging = {
      sql,
      sugarhouse,
      // The house's own record changes the rules: lots are judged by those in it.
      houseContext: kind.kind === 'house' ? await loadSugarhouseContext(sql, context) : houseContext,
      at: entryType === 'correct' ? momentIn(houseContext.parseOptions.zone, context.now) : prepared.happenedAt,
      entryType,
      isDispatch: kind.kind === 'dispatch',
      addedWhenFinished: entryType === 'add' && existing?.kind === 'pack' && existing.body.jars !== undefined,
    };
    return judgeWithAffected(judging, prepared.judge, affected);
  });
}

function fieldsToRead(
  kind: Kind,
  saved: StoredRecord,
  input: RecordInput,
  { add, why, of, parse }: RecordOptions & { readonly parse: ParseOptions },
): RecordInput {
  if (add) return mergeAdditions(kind.fields, saved, input, parse);
  // A file row that corrects a record and leaves who or when blank changes neither.
  return why !== undefined && of === undefined ? { ...input, ...storedWhoAndWhen(saved.typed, input) } : input;
}

interface EntryParts extends RecordRequest {
  readonly entryType: EntryType;
  readonly key: string;
  readonly requestHash: string;
  readonly prepared: PreparedRecord;
  readonly typed: Typed;
  readonly jars: AllocatedJars | undefined;
}

function recordEntry(context: WriteContext, houseContext: SugarhouseContext, parts: EntryParts): Entry {
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
    sent: parts.requestHash,
    about: [...new Set(prepared.about)],
    record: {
      kind: parts.kind.kind,
      id: prepared.id,
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
function withPreviousLot(lot: string | undefined, prepared: PreparedRecord): PreparedRecord {
  if (lot === undefined || lot === prepared.lot) return prepared;
  return { ...prepared, about: [...prepared.about, lot], judge: [...prepared.judge, lot] };
}

function repeatedResult(before: NumberedEntry, requestHash: string): Recorded | Refusal {
  if (before.sent !== requestHash)
    return { problem: { kind: 'key-used', entry: before.seq, by: before.by, at: before.typedAt } satisfies Problem };
  const first = before.entryType === 'add' ? 'added' : before.entryType === 'correct' ? 'corrected' : 'new';
  return { entry: before.seq, id: before.record?.id ?? before.about[0] ?? '', outcome: 'again', first, notes: [] };
}
