import type { NumberedEntry } from '#libs/records/entry.js';
import type { RecallHazard } from '#libs/reports/recall/recall.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { historyOf } from '#libs/store/log/log.js';
import type { Lot } from '#libs/store/queries/lots.js';

/**
 * The last recall of each of these lots, earliest first. One of them is enough to call the list one of a recall: its
 * jars are to be called back.
 */
export async function loadLastRecalls(reader: SugarhouseReader, codes: readonly string[]): Promise<NumberedEntry[]> {
  const found = new Map<number, NumberedEntry>();
  for (const code of codes) {
    const last = (await historyOf(reader, code)).filter((entry) => entry.entryType === 'recall').at(-1);
    if (last) found.set(last.seq, last);
  }
  return [...found.values()].sort((a, b) => a.seq - b.seq);
}

/** What these recalls recorded for the people who have the jars, each text null where it was left blank. */
export function hazardOf(recalls: readonly NumberedEntry[]): RecallHazard {
  const notes = recalls.findLast(({ said }) => said !== undefined)?.said;
  const text = (name: string): string | null => (typeof notes?.[name] === 'string' ? notes[name] : null);
  return { hazard: text('hazard'), whoMayBeHurt: text('whoMayBeHurt'), whatToDo: text('whatToDo') };
}

/** The same for a lot; undefined where it is not recalled. */
export const loadRecallHazard = async (
  reader: SugarhouseReader,
  { code, state }: Pick<Lot, 'code' | 'state'>,
): Promise<RecallHazard | undefined> =>
  state === 'recalled' ? hazardOf(await loadLastRecalls(reader, [code])) : undefined;
