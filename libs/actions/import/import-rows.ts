import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { writeStaged } from '#libs/store/staging/write-staged.js';
import { canonicalJson } from '#libs/store/log/canonical.js';
import { type CsvRow, readCsv } from './csv-file.js';
import { readAhead } from './read-ahead.js';
import { lookUpRows } from './row-lookup.js';
import { keyOfRow, namesOf } from './row-names.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { type WriteContext, loadSugarhouseContext } from '../record/write-context.js';
import { refuseWrongClock } from '../record/clock.js';
import { drawSeeds, type JarSeeds } from '../record/allocate-jar-codes.js';
import { columnName } from '../record/fields.js';
import type { ParseOptions } from '../record/parse-options.js';
import { type ReadFields, readFields } from '../record/read-fields.js';
import { inOrder, referencesOf } from './import-order.js';
import type { Kind } from '../record/kind.js';
import { type Fault, limitSentences, maxListed, sentencesOf, shortenFault } from '../record/problem.js';
import { recordInTransaction } from '../record/record.js';

export interface Imported {
  readonly kind: string;
  readonly rows: number;
  readonly written: number;
  readonly corrected: number;
  /** Rows that the book already had. */
  readonly same: number;
  readonly ids: readonly string[];
  readonly notes: readonly string[];
  readonly dryRun: boolean;
  /** The first faults by line. Where there are any, nothing was written. */
  readonly faults: readonly Fault[];
  readonly faultCount: number;
  /** Rows that a rule of the book refuses, one sentence each. Where there are any, nothing was written. */
  readonly refusals: readonly { readonly line: number; readonly sentence: string }[];
  readonly refusalCount: number;
}

export interface ImportOptions {
  readonly dryRun?: boolean;
  /** Correct records that differ from the file, with this reason. */
  readonly why?: string | undefined;
}

/** Imports a whole file, or nothing of it and reports every fault at once. */
export async function importRows(
  book: Book,
  context: WriteContext,
  kind: Kind,
  bytes: Uint8Array,
  { dryRun = false, why }: ImportOptions = {},
): Promise<Imported> {
  const file = readCsv(bytes, kind.fields);
  const houseContext = await loadSugarhouseContext(book.read, context);
  const faults = faultCounter(file.faults);
  const first = await readFirst(kind, file.rows, houseContext.parseOptions, faults);
  faults.add(await sameRowTwice(kind, file.rows));
  const jars = [...first.jarsOf.values()].reduce((sum, made) => sum + made, 0);
  if (jars > mostJars) faults.add([tooManyJars(jars)]);

  // A write that returns a `problem` is rolled back, so a dry run is a write that always returns one.
  const rows = jars > mostJars ? [] : inOrder(kind, file.rows, houseContext.parseOptions.zone);
  const codesInFile = codesNamed(file.rows);
  const work = async (tx: WriteTransaction): Promise<{ totals: ImportTotals; problem?: true }> => {
    const totals = await writeRows(tx, { ...context, reservedCodes: codesInFile }, kind, rows, first, why);
    const wrong = faults.count() + totals.faults.length + totals.refusals.length > 0;
    return wrong || dryRun ? { totals, problem: true } : { totals };
  };
  const isLong = rows.length > rowsUnderLock || jars > jarsUnderLock;
  const answer = await (isLong ? writeStaged(book, work) : book.write(work));
  const totals = answer?.totals ?? { ...nothingYet(), refusals: [{ line: 1, sentence: writtenConcurrently }] };
  faults.add(totals.faults);
  const nothing = faults.count() > 0 || totals.refusals.length > 0;
  return {
    kind: kind.plural,
    rows: file.rows.length,
    written: nothing ? 0 : totals.written,
    corrected: nothing ? 0 : totals.corrected,
    same: nothing ? 0 : totals.same,
    ids: nothing ? [] : totals.ids,
    notes: [...file.notes, ...(nothing ? [] : limitSentences(totals.notes))],
    dryRun,
    faults: faults.first(),
    faultCount: faults.count(),
    refusals: totals.refusals.slice(0, maxListed),
    refusalCount: totals.refusals.length,
  };
}

/**
 * Each row takes some milliseconds; longer files are imported on a copy of the book, so that other writes never wait
 * for them.
 */
const rowsUnderLock = 100;
/** About 0.1 s for drawing codes and writing jars. */
const jarsUnderLock = 2000;
/** Each jar is a row in the database and takes as long to copy as any other row. */
const mostJars = 200_000;
const rowsBetweenYields = 50;
const rowsReadAhead = 200;
const yieldToOthers = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
const writtenConcurrently =
  'Others changed lots of this file each time it was read. Nothing of it was saved: send it again when nobody is changing them.';

const jarsMade = (noun: Kind['noun'], body: object): number =>
  noun === 'pack' && 'jars' in body && typeof body.jars === 'number' ? body.jars : 0;

const tooManyJars = (jars: number): Fault => ({
  field: 'jars',
  column: 'jars',
  line: 1,
  expected: `at most ${mostJars.toLocaleString('en-US')} jars in one file: split it into several files`,
  got: jars.toLocaleString('en-US'),
});

/** Counts all faults of a file and keeps only the first ones: a file of a million cells may have as many faults. */
function faultCounter(of: readonly Fault[]) {
  let saved: readonly Fault[] = [];
  let all = 0;
  const byLine = (a: Fault, b: Fault): number => (a.line ?? 0) - (b.line ?? 0);
  const add = (faults: readonly Fault[]): void => {
    all += faults.length;
    saved = [...saved, ...faults.slice(0, mostFaultsStored).map(shortenFault)];
    if (saved.length > mostFaultsStored) saved = [...saved].sort(byLine).slice(0, maxListed);
  };
  add(of);
  return { add, count: () => all, first: () => [...saved].sort(byLine).slice(0, maxListed) };
}
const mostFaultsStored = 10 * maxListed;

interface ImportTotals {
  written: number;
  corrected: number;
  same: number;
  ids: string[];
  notes: string[];
  faults: Fault[];
  refusals: { line: number; sentence: string }[];
}

const nothingYet = (): ImportTotals => ({
  written: 0,
  corrected: 0,
  same: 0,
  ids: [],
  notes: [],
  faults: [],
  refusals: [],
});

/** What a file's first reading found: rows with faults, and how many jars the rows of packs make. */
interface FirstReading {
  readonly unread: ReadonlySet<CsvRow>;
  readonly jarsOf: ReadonlyMap<CsvRow, number>;
  /** The fields of the first rows that may be new records, so that they aren't parsed again, and how they were parsed. */
  readonly asNew: ReadonlyMap<CsvRow, ReadFields>;
  readonly options: ParseOptions;
}

/** A file of a season fits; the fields of a row take some kilobytes of memory. */
const mostReadOnce = 2000;

/**
 * Parses each row. Length and wording are checked once the existing record is found: a text that the book already holds
 * is accepted.
 */
async function readFirst(
  { fields, noun }: Kind,
  rows: readonly CsvRow[],
  options: ParseOptions,
  faults: ReturnType<typeof faultCounter>,
): Promise<FirstReading> {
  const unread = new Set<CsvRow>();
  const jarsOf = new Map<CsvRow, number>();
  const asNew = new Map<CsvRow, ReadFields>();
  for (const [n, row] of rows.entries()) {
    if (n % rowsBetweenYields === 0) await yieldToOthers();
    const ofNew = readFields(fields, row.cells, options);
    const read = 'faults' in ofNew ? readFields(fields, row.cells, options, 'any') : ofNew;
    if ('faults' in read) {
      unread.add(row);
      faults.add(read.faults.map((fault) => placed(fault, row)));
      continue;
    }
    if (read === ofNew && asNew.size < mostReadOnce) asNew.set(row, read);
    const made = jarsMade(noun, read.body);
    if (made > 0) jarsOf.set(row, made);
  }
  return { unread, jarsOf, asNew, options };
}

/** Whether texts parsed in one of these ways are parsed the same in the other. */
const parseAlike = (one: ParseOptions, other: ParseOptions): boolean =>
  one.zone === other.zone &&
  one.volumes.bareGallons === other.volumes.bareGallons &&
  one.now.getTime() === other.now.getTime();

async function writeRows(
  tx: WriteTransaction,
  context: WriteContext,
  kind: Kind,
  rows: readonly CsvRow[],
  { unread, jarsOf, asNew, options }: FirstReading,
  why: string | undefined,
): Promise<ImportTotals> {
  const totals = nothingYet();
  const houseContext = await loadSugarhouseContext(tx.sql, context);
  const clock = await refuseWrongClock(tx.sql, context, houseContext);
  if (clock) return { ...totals, refusals: [{ line: 1, sentence: sentencesOf(clock.problem).join(' ') }] };
  // A row that depends on an unreadable one isn't reported as faulty too.
  const missing = new Set([...unread].flatMap((row) => capitalNames(kind, row)));
  const reader = sugarhouseReader(tx.sql, context.sugarhouse);
  const ahead = await lookUpRows(reader, kind, rows);
  const isParsedAlike = parseAlike(houseContext.parseOptions, options);
  let seeds: JarSeeds | undefined;
  for (const [n, row] of rows.entries()) {
    if (n % rowsReadAhead === 0) {
      const next = rows.slice(n, n + rowsReadAhead).filter((each) => !unread.has(each));
      await readAhead(reader, kind, next);
      seeds = await drawSeeds(
        reader,
        next.flatMap((row) => (ahead.isNew(row) ? (jarsOf.get(row) ?? []) : [])),
      );
    }
    if (unread.has(row)) continue;
    if (referencesOf(kind, row).some((name) => missing.has(name.toUpperCase()))) {
      for (const name of capitalNames(kind, row)) missing.add(name);
      continue;
    }
    const readAsNew = isParsedAlike ? asNew.get(row) : undefined;
    const ofRow = { ...context, houseContext, isNew: ahead.isNew(row), seeds, readAsNew };
    const answer = await recordRow(tx, ofRow, kind, row, why);
    if ('problem' in answer) {
      for (const name of capitalNames(kind, row)) missing.add(name);
      if (answer.problem.kind === 'invalid')
        totals.faults.push(...answer.problem.faults.map((fault) => placed(fault, row)));
      else totals.refusals.push({ line: row.line, sentence: sentencesOf(answer.problem).join(' ') });
      continue;
    }
    totals.ids.push(answer.id);
    ahead.wrote(row, answer.id);
    if (answer.outcome === 'again' || answer.outcome === 'same') totals.same++;
    else if (answer.outcome === 'corrected') totals.corrected++;
    else totals.written++;
    totals.notes.push(...answer.notes.map((note) => `Line ${row.line}: ${note}`));
  }
  return totals;
}

/**
 * A row's key is the hash of its kind and cells, whoever imports it: the same file twice changes nothing. A correction
 * has no key, for the book may be corrected back and forth; the same correction twice finds nothing to change.
 */
async function recordRow(
  tx: WriteTransaction,
  context: WriteContext,
  kind: Kind,
  row: CsvRow,
  why: string | undefined,
) {
  const by = row.cells['by'] ?? context.by;
  const sent = row.cells;
  const at = {
    ...context,
    by,
    author: 'import',
    key: keyOfRow(kind, row),
  };
  // Only a row that names its record can correct it; one without a name is identified by its cells alone.
  const names = kind.idFields.some((name) => row.cells[name] !== undefined);
  return why === undefined || !names
    ? recordInTransaction(tx, at, kind, sent)
    : recordInTransaction(tx, { ...at, key: undefined }, kind, sent, { why, corrector: context.by });
}

async function sameRowTwice(kind: Kind, rows: readonly CsvRow[]): Promise<Fault[]> {
  const seen = new Map<string, number>();
  const faults: Fault[] = [];
  for (const [n, row] of rows.entries()) {
    if (n % rowsBetweenYields === 0) await yieldToOthers();
    if (kind.idFields.some((name) => row.cells[name] !== undefined)) continue;
    const cells = canonicalJson(row.cells);
    const first = seen.get(cells);
    if (first === undefined) seen.set(cells, row.line);
    else
      faults.push(
        placed({ field: 'id', expected: `an id, since line ${first} has the same cells`, got: 'nothing' }, row),
      );
  }
  return faults;
}

/** The book must not generate a code for one row that another row of the file already has. */
const codesNamed = (rows: readonly CsvRow[]): ReadonlySet<string> =>
  new Set(rows.flatMap((row) => row.cells['lot']?.toUpperCase() ?? []));

const placed = (fault: Fault, row: CsvRow): Fault => ({ ...fault, line: row.line, column: columnName(fault.field) });

const capitalNames = (kind: Kind, row: CsvRow): string[] => namesOf(kind, row).map((name) => name.toUpperCase());
