import type { RecordKind } from '#libs/records/entry.js';
import { acknowledgements } from './already-left.js';
import { actions } from './act-on-lot.js';
import { answers } from './answer-question.js';
import { counts } from './count-shelf.js';
import { draws } from './draw-off.js';
import { gatherings } from './gather-sap.js';
import type { Kind } from './kind.js';
import { labelStocks } from './label-stock.js';
import { lines } from './log-boil.js';
import { packs, packsUnderway } from './pack-syrup.js';
import { recallCalls } from './recall-call.js';
import { boils, boilsUnderway } from './record-boil.js';
import { dispatches } from './send-out.js';
import { houses } from './set-up.js';
import { sideKinds } from './side-records.js';
import { receipts } from './take-receipt.js';
import { spent } from './use-up.js';
import { verifications } from './verify-lot.js';

/** What a file may hold, in the order in which a season's files are best read. */
export const importKinds: readonly Kind[] = [gatherings, receipts, boils, draws, packs, dispatches, counts];

/** Every kind of record that can be written and corrected, by its name in the log. */
export const kindByName: ReadonlyMap<RecordKind, Kind> = new Map(
  [
    ...importKinds,
    lines,
    actions,
    answers,
    acknowledgements,
    recallCalls,
    verifications,
    spent,
    houses,
    labelStocks,
    ...sideKinds,
  ].map((each) => [each.kind, each]),
);

/** The kind to read a record again with: a boil or pack still under way needs less than a finished one. */
export function kindOfRecord(record: {
  readonly kind: RecordKind;
  readonly typed: Readonly<Record<string, string>>;
}): Kind | undefined {
  if (record.kind === 'boil' && record.typed['syrupVolume'] === undefined) return boilsUnderway;
  if (record.kind === 'pack' && record.typed['jars'] === undefined) return packsUnderway;
  return kindByName.get(record.kind);
}
