import type { Judged, NumberedEntry, RecordRow } from '#libs/records/entry.js';
import type { Deviation } from '#libs/reports/season/deviation.js';

/** An entry in which a lot was judged, oldest first. */
export interface JudgedEntry {
  readonly entry: NumberedEntry;
  readonly judged: Judged;
}

/** Kinds of dispatch by which jars go to others. */
const leaving: readonly string[] = ['sale', 'gift', 'sample'];

/**
 * Dispatches of jars that left while their lot was held or recalled, and that were voided later. Voiding returns the
 * jars to the sums; the deviation, with who voided it and why, stays.
 */
export function voidedDispatches(
  lot: string,
  input: readonly JudgedEntry[],
  recordBefore: ReadonlyMap<number, RecordRow>,
): Deviation[] {
  const held = heldPeriods(input);
  return input.flatMap(({ entry }) => {
    const record = entry.voids?.kind === 'dispatch' ? recordBefore.get(entry.seq) : undefined;
    if (record?.kind !== 'dispatch' || record.body.lot !== lot || !leaving.includes(record.body.kind)) return [];
    const { jars, to, sentAt, alreadyLeft, by } = record.body;
    const sentMs = Date.parse(sentAt);
    // A dispatch of the same minute as the hold but recorded before it left an open lot.
    const during = held.find(
      ({ seq, from, until }) => from <= sentMs && sentMs < until && (from < sentMs || seq < (entry.corrects ?? 0)),
    );
    if (!during && !alreadyLeft) return [];
    return [
      {
        lot,
        kind: 'void',
        rule: 'dispatch-voided',
        found: `${record.id}: ${jars} ${jars === 1 ? 'jar' : 'jars'} recorded as gone to ${to} ${sentAt.slice(0, 16).replace('T', ' ')}`,
        limit: 'no jar leaves while its lot is held or recalled',
        source: '',
        jars: null,
        wayOut: null,
        foundAt: sentAt,
        foundBy: by,
        heldAt: during?.at ?? null,
        done: [{ at: entry.typedAt, by: entry.by, words: `Voided: ${entry.why ?? 'no reason recorded'}.` }],
        readAgain: [],
        cleared: null,
        released: null,
        open: false,
      },
    ];
  });
}

interface HeldPeriod {
  readonly at: string;
  /** The entry that voided it. */
  readonly seq: number;
  readonly from: number;
  readonly until: number;
}

/** Periods when the lot was held or recalled, from the entry that sets the state to the one that ends it. */
function heldPeriods(input: readonly JudgedEntry[]): HeldPeriod[] {
  const periods: HeldPeriod[] = [];
  let since: Omit<HeldPeriod, 'until'> | undefined;
  for (const { entry, judged } of input) {
    const isHeld = judged.state === 'held' || judged.state === 'recalled';
    if (isHeld) {
      const at = judged.heldSince ?? entry.happenedAt;
      since ??= { at, seq: entry.seq, from: Date.parse(at) };
    } else if (since !== undefined) {
      periods.push({ ...since, until: Date.parse(entry.typedAt) });
      since = undefined;
    }
  }
  return since === undefined ? periods : [...periods, { ...since, until: Infinity }];
}
