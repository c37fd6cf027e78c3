import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { findRecord, jarsOfPack } from '#libs/store/queries/lots.js';
import { templatePath } from '#libs/package-root.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import type { Kind } from '../record/kind.js';
import { kindByName } from '../kinds/registry.js';
import { holdLot } from '../lots/hold-lot.js';
import { recallLot } from '../lots/recall-lots.js';
import { releaseLot } from '../lots/release-lot.js';
import { runMockRecall } from './mock-recall.js';
import { type PracticeStep, practiceRows } from './practice-rows.js';

import { record } from '../record/record.js';
import { parseMoment } from '../record/times.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

export const practiceZone = 'America/New_York';

/** The rows and extra steps of templates/practice/, in the order in which they were recorded. */
export function practiceSteps(): PracticeStep[] {
  const input = z.array(stepShape).parse(JSON.parse(readFileSync(templatePath('practice/steps.json'), 'utf8')));
  const steps = input.map((entryType) => ({
    at: new Date(toEpochMs(entryType.at)),
    by: entryType.by,
    from: entryType.from,
    write: stepWriter(entryType),
  }));
  return [...steps, ...practiceRows(toEpochMs)].sort((a, b) => a.at.getTime() - b.at.getTime());
}

/**
 * Steps that no import file has: instruments, checks, holds, corrections. `26065A-1#20` stands for the code of that
 * jar.
 */
const stepShape = z.strictObject({
  at: z.string(),
  by: z.string(),
  from: z.string().optional(),
  record: z.string().optional(),
  correct: z.string().optional(),
  of: z.string().optional(),
  fields: z.record(z.string(), z.string()).optional(),
  mark: z.enum(['hold', 'release', 'recall']).optional(),
  lot: z.string().optional(),
  why: z.string().optional(),
  practise: z.literal(true).optional(),
});
type StepInput = z.infer<typeof stepShape>;

function stepWriter({
  record: plural,
  correct,
  of,
  fields = {},
  mark,
  lot = '',
  why = '',
}: StepInput): PracticeStep['write'] {
  const statusActions = { hold: holdLot, release: releaseLot, recall: recallLot };
  if (mark) return (book, context) => statusActions[mark](book, context, lot, why);
  if (correct)
    return async (book, context) => {
      const saved = await findRecord(sugarhouseReader(book.read, context.sugarhouse), findKind(correct).kind, of ?? '');
      return record(book, context, findKind(correct), { ...saved?.typed, ...fields }, { why, of });
    };
  if (plural)
    return async (book, context) =>
      record(
        book,
        context,
        findKind(plural),
        await withJarCodes(sugarhouseReader(book.read, context.sugarhouse), fields),
      );
  return async (book, context) => {
    const practised = await runMockRecall(book, context);
    return 'problem' in practised ? practised : practised.recorded;
  };
}

function findKind(plural: string): Kind {
  const found = [...kindByName.values()].find((each) => each.plural === plural);
  if (!found) throw new Error(`The practice season names a kind ${plural}`);
  return found;
}

/** Codes are random in each book, so the season names its jars by lot and number. */
async function withJarCodes(reader: SugarhouseReader, fields: Readonly<Record<string, string>>) {
  const coded: Record<string, string> = {};
  for (const [name, text] of Object.entries(fields)) {
    coded[name] = text;
    for (const [placeholder, pack = '', n = ''] of text.matchAll(/(\d{5}[A-Z]+-\d+)#(\d+)/g))
      for await (const jar of jarsOfPack(reader, pack, Number(n), Number(n)))
        coded[name] = coded[name].replace(placeholder, printedJarCode(jar.code));
  }
  return coded;
}

function toEpochMs(moment: string): number {
  const parsed = parseMoment(moment, practiceZone);
  if (parsed.mismatch) throw new Error(`The practice season: ${parsed.mismatch.expected}, got ${parsed.mismatch.got}`);
  return Date.parse(parsed.value);
}
