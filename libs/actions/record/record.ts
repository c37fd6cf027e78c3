import { randomBytes } from 'node:crypto';
import { canonicalJson, hashOf } from '#libs/store/log/canonical.js';
import type { Deed, Entry, JarsGiven, NumberedEntry } from '#libs/records/entry.js';
import type { KeptRecord } from '#libs/store/queries/lots.js';
import { findSent } from '#libs/store/log/log.js';
import type { Book } from '#libs/store/book.js';
import type { Page } from '#libs/store/connection/write-transaction.js';
import { addsALine, changedSince } from './concurrency-check.js';
import { clockProblem } from './clock.js';
import { type Desk, type Ground, groundOf } from './write-context.js';
import { readFields, type Typed } from './fields.js';
import { giveJars } from './allocate-jar-codes.js';
import { changedLots, judgeLots } from '../lots/judge-lots.js';
import type { Kind, Settled } from './kind.js';
import { lotsTouched } from './affected-lots.js';
import { type Problem, type Refusal, unknown } from './problem.js';
import { findExisting, freeId, idTaken } from './find-existing-record.js';
import { momentIn } from './times.js';
import { addedTo, differences, whoAndWhenKept, writtenOver } from './record-diff.js';

export interface Recorded {
  /** Its place in the record log. */
  readonly entry: number;
  /** The lot code, or the record's own id. */
  readonly id: string;
  /** `new`, or nothing was written: `again` the same thing sent twice, `same` the record already says so. */
  readonly outcome: 'new' | 'added' | 'corrected' | 'again' | 'same';
  readonly notes: readonly string[];
}

export interface Ways {
  /** Correct what is there, with this reason. */
  readonly why?: string | undefined;
  /** Fill in what was left blank, or add to a list. */
  readonly add?: boolean | undefined;
  /** The id of the record that is corrected or added to. */
  readonly of?: string | undefined;
  /** Who corrects, where the desk's initials are those of who did it: a row of a file has its own. */
  readonly corrector?: string | undefined;
}

/** Records one thing: the one way by which form, request, command and file come into the book. */
export function record(
  book: Book,
  desk: Desk,
  kind: Kind,
  sent: Readonly<Record<string, unknown>>,
  ways: Ways = {},
): Promise<Recorded | Refusal> {
  return book.write((page) => recordOn(page, desk, kind, sent, ways));
}

/** The same on a page that is already open, for several at once: all of them or none. */
export async function recordOn(
  page: Page,
  desk: Desk,
  kind: Kind,
  sent: Readonly<Record<string, unknown>>,
  ways: Ways = {},
): Promise<Recorded | Refusal> {
  const sentHash = hashOf(canonicalJson({ kind: kind.kind, sent, why: ways.why ?? null, of: ways.of ?? null }));
  const key = desk.key ?? `${desk.author}:${randomBytes(16).toString('hex')}`;
  const before = desk.key === undefined ? undefined : await findSent(page.sql, desk.sugarhouse, desk.author, key);
  if (before) return sentBefore(before, sentHash);

  const ground = await groundOf(page.sql, desk);
  const clock = await clockProblem(page.sql, desk, ground);
  if (clock) return clock;
  const existing = await findExisting(page.sql, desk.sugarhouse, kind, sent, ways);
  if (ways.of !== undefined && !existing) return unknown(kind.noun, ways.of);
  // A lot's own record is known by its code; what speaks of a lot names it.
  const beside = addsALine(kind.kind, !existing, ways.add ? Object.keys(sent) : undefined);
  const changed = existing && (await changedSince(page.sql, desk, existing.lot ?? existing.id, beside));
  if (changed) return changed;
  const asked = existing ? askedOf(kind, existing.typed, sent, ways) : sent;
  const read = readFields(kind.fields, asked, ground.manner, existing?.typed);
  if ('faults' in read) return { problem: { kind: 'invalid', faults: read.faults } };
  if (existing) {
    const differs = differences(kind, existing.typed, read.typed);
    if (differs.length === 0) return { entry: existing.lastSeq, id: existing.id, outcome: 'same', notes: [] };
    const over = ways.why === undefined ? writtenOver(kind, existing, differs, ways) : [];
    if (over.length > 0) return { problem: { kind: 'invalid', faults: over } };
  }
  const first = existing
    ? { by: existing.writtenBy, at: existing.writtenAt }
    : { by: desk.by, at: momentIn(ground.manner.zone, desk.now) };
  const answer = await kind.settle({ sql: page.sql, desk, ground, first }, read, existing);
  if ('problem' in answer) return answer;
  const settled = alsoOf(existing?.lot, answer);
  const besideOthers =
    !existing && settled.lot !== undefined && (await changedSince(page.sql, desk, settled.lot, beside));
  if (besideOthers) return besideOthers;
  const id = settled.id || (await freeId(page.sql, desk.sugarhouse, kind));
  const taken = existing ? undefined : await idTaken(page.sql, desk.sugarhouse, kind, id);
  if (taken) return taken;

  const deed: Deed = kind.kind === 'action' && !existing ? 'act' : !existing ? 'record' : ways.add ? 'add' : 'correct';
  const jars = settled.jars === undefined ? undefined : await giveJars(page.sql, desk.sugarhouse, id, settled.jars);
  const entry = await page.append(
    entryOf(desk, ground, { deed, key, sentHash, kind, id, settled, typed: read.typed, jars, existing, ways }),
    async (sql) => {
      const touched = await lotsTouched({ sql, sugarhouse: desk.sugarhouse, kind, settled, before: existing });
      const judging = { sql, sugarhouse: desk.sugarhouse, ground, at: settled.happenedAt, deed };
      const own = new Set(settled.judge);
      const others = touched.filter((code) => !own.has(code));
      return [...(await judgeLots(judging, [...own])), ...(await changedLots(judging, others))];
    },
  );
  return { entry, id, outcome: existing ? (ways.add ? 'added' : 'corrected') : 'new', notes: settled.notes };
}

function askedOf(kind: Kind, kept: Typed, sent: Readonly<Record<string, unknown>>, ways: Ways): typeof sent {
  if (ways.add) return { ...kept, ...addedTo(kept, sent, kind) };
  // A whole row of a file that corrects the record and doesn't say who or when says nothing new of either.
  return ways.why !== undefined && ways.of === undefined ? { ...sent, ...whoAndWhenKept(kept, sent) } : sent;
}

interface Parts {
  readonly deed: Deed;
  readonly key: string;
  readonly sentHash: string;
  readonly kind: Kind;
  readonly id: string;
  readonly settled: Settled;
  readonly typed: Typed;
  readonly jars: JarsGiven | undefined;
  readonly existing: KeptRecord<unknown> | undefined;
  readonly ways: Ways;
}

function entryOf(desk: Desk, ground: Ground, parts: Parts): Entry {
  const { settled, existing, ways } = parts;
  return {
    format: 1,
    sugarhouse: desk.sugarhouse,
    deed: parts.deed,
    by: (existing && ways.corrector) || desk.by,
    happenedAt: settled.happenedAt,
    typedAt: momentIn(ground.manner.zone, desk.now),
    author: desk.author,
    key: parts.key,
    sent: parts.sentHash,
    about: [...new Set(settled.about)],
    record: {
      kind: parts.kind.kind,
      id: parts.id,
      ownId: settled.ownId,
      lot: settled.lot,
      typed: parts.typed,
      body: settled.body,
    },
    jars: parts.jars,
    corrects: existing?.lastSeq,
    why: ways.why,
    from: desk.from,
  };
}

/** What is moved from one lot to another is told and judged of both. */
function alsoOf(lot: string | undefined, settled: Settled): Settled {
  if (lot === undefined || lot === settled.lot) return settled;
  return { ...settled, about: [...settled.about, lot], judge: [...settled.judge, lot] };
}

function sentBefore(before: NumberedEntry, sentHash: string): Recorded | Refusal {
  if (before.sent !== sentHash)
    return { problem: { kind: 'key-used', entry: before.seq, by: before.by, at: before.typedAt } satisfies Problem };
  return { entry: before.seq, id: before.record?.id ?? before.about[0] ?? '', outcome: 'again', notes: [] };
}
