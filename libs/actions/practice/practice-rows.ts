import { readFileSync } from 'node:fs';
import type { Book } from '#libs/store/book.js';
import { templatePath } from '#libs/package-root.js';
import { readCsv } from '../import/csv-file.js';
import type { WriteContext } from '../record/write-context.js';
import { splitList } from '../record/fields.js';
import type { Kind } from '../record/kind.js';
import { importKinds } from '../kinds/registry.js';
import { packs } from '../kinds/pack.js';
import { faultSentence, type Refusal } from '../record/problem.js';
import { boils, boilsUnderway } from '../kinds/boil.js';
import { record, type RecordOptions } from '../record/record.js';

/** A step of the practice season, and when it was recorded. */
export interface PracticeStep {
  readonly at: Date;
  readonly by: string;
  readonly from?: string | undefined;
  readonly write: (book: Book, context: WriteContext) => Promise<{ readonly entry: number } | Refusal>;
}

type Cells = Readonly<Record<string, string>>;
type ToEpochMs = (moment: string) => number;

/**
 * The import files of the practice season as a household would have recorded them: a boil when it begins and again when
 * its syrup has rested, a pack when its jars are filled and again when its seals are checked, all else at once.
 */
export function practiceRows(toEpochMs: ToEpochMs): PracticeStep[] {
  const gatheredAt = new Map(rowsOf('gatherings').map((row) => [row['id'], row['gatheredAt']]));
  return importKinds.flatMap((kind) =>
    rowsOf(kind.plural).flatMap((row) => {
      if (kind === boils) return boilSteps(row, gatheredAt, toEpochMs);
      if (kind === packs) return packSteps(row, toEpochMs);
      return [step(kind, row, toEpochMs(recordedTime(row)) + 5 * minute)];
    }),
  );
}

const minute = 60_000;

function rowsOf(plural: string): Cells[] {
  const kind = importKinds.find((each) => each.plural === plural);
  const { rows, faults } = readCsv(readFileSync(templatePath(`practice/${plural}.csv`)), kind?.fields ?? {});
  const [fault] = faults;
  if (fault) throw new Error(`The practice season, ${plural}: ${faultSentence(fault)}`);
  return rows.map((row) => row.cells);
}

/** Sap gathered after the boil began is added in the second step. */
function boilSteps(row: Cells, gatheredAt: ReadonlyMap<string | undefined, string | undefined>, toEpochMs: ToEpochMs) {
  const beganMs = toEpochMs(row['beganAt'] ?? '');
  const isGatheredBefore = (portion: string): boolean => {
    const gathered = gatheredAt.get(portion.split(':')[0]);
    return gathered === undefined || toEpochMs(gathered) < beganMs;
  };
  const portions = splitList(row['gatherings'] ?? '');
  const begun = pickCells(row, ['lot', 'beganAt', 'carriedFrom', 'waterBoilsAt', 'by']);
  const rest = omitCells(row, ['gatherings', ...Object.keys(begun)]);
  const toppedUp = portions.filter((portion) => !isGatheredBefore(portion)).join(';');
  return [
    step(boilsUnderway, { ...begun, gatherings: portions.filter(isGatheredBefore).join(';') }, beganMs + 5 * minute),
    step(
      boils,
      { ...rest, ...(toppedUp ? { gatherings: toppedUp } : {}), by: row['by'] ?? '' },
      toEpochMs(row['restedUntil'] ?? row['finishedAt'] ?? '') + 5 * minute,
      { add: true, of: row['lot'] },
    ),
  ];
}

/** Seals are checked when the jars are cold: at half past seven the next morning. */
function packSteps(row: Cells, toEpochMs: ToEpochMs) {
  const seals = pickCells(row, ['sealsFailed', 'sealsOutcome']);
  const filled = toEpochMs(row['packedAt'] ?? '');
  const nextMorning = toEpochMs(`${(row['packedAt'] ?? '').slice(0, 10)}T07:30`) + 24 * 60 * minute;
  return [
    step(packs, omitCells(row, Object.keys(seals)), filled + 60 * minute),
    step(packs, { ...seals, by: row['by'] ?? '' }, nextMorning, { add: true, of: row['lot'] }),
  ];
}

const step = (
  kind: Kind,
  { by = '', ...cells }: Cells,
  at: number,
  recordOptions: RecordOptions = {},
): PracticeStep => ({
  at: new Date(at),
  by,
  write: (book, context) => record(book, context, kind, recordOptions.add ? cells : { ...cells, by }, recordOptions),
});

const recordedTime = (row: Cells): string =>
  row['gatheredAt'] ?? row['receivedAt'] ?? row['drawnAt'] ?? row['sentAt'] ?? row['countedAt'] ?? '';

const pickCells = (row: Cells, names: readonly string[]): Cells =>
  Object.fromEntries(Object.entries(row).filter(([name]) => names.includes(name)));
const omitCells = (row: Cells, names: readonly string[]): Cells =>
  Object.fromEntries(Object.entries(row).filter(([name]) => !names.includes(name)));
