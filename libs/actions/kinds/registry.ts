import type { RecordKind } from '#libs/records/record-types.js';
import { acknowledgements } from './acknowledgement.js';
import { actions } from './corrective-action.js';
import { answers } from './answer.js';
import { counts } from './count.js';
import { draws } from './draw.js';
import { gatherings } from './gathering.js';
import type { Kind } from '../record/kind.js';
import { labelStocks } from './label-stock.js';
import { lines } from './boil-line.js';
import { packs, packsUnderway } from './pack.js';
import { recallCalls } from '../recall/recall-call.js';
import { boils, boilsUnderway } from './boil.js';
import { dispatches } from './dispatch.js';
import { houses } from './house.js';
import { supportingRecordKinds } from './supporting-records.js';
import { receipts } from './receipt.js';
import { disposals } from './disposal.js';
import { verifications } from './verification.js';

/** The kinds of a season’s lots and movements, in the order in which their files should be imported. */
export const importKinds: readonly Kind[] = [gatherings, receipts, boils, draws, packs, dispatches, counts];

/** Written by the program together with a document or from a page of its own. */
export const writtenByProgram: readonly RecordKind[] = ['labels', 'season', 'practice-recall'];

/** What a file may hold: whatever is exported can be imported again. */
export const fileKinds: readonly Kind[] = [
  ...importKinds,
  ...supportingRecordKinds.filter(({ kind }) => !writtenByProgram.includes(kind)),
];

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
    disposals,
    houses,
    labelStocks,
    ...supportingRecordKinds,
  ].map((each) => [each.kind, each]),
);

/** The kind of this name in the log; throws where the program no longer declares it. */
export function kindNamed(name: RecordKind): Kind {
  const found = kindByName.get(name);
  if (!found) throw new Error(`No kind of record is declared as ${name}`);
  return found;
}

/** The kind whose fields parse a stored record again: a boil or pack in progress requires less than a finished one. */
export function kindOfRecord(record: {
  readonly kind: RecordKind;
  readonly typed: Readonly<Record<string, string>>;
}): Kind | undefined {
  if (record.kind === 'boil' && record.typed['syrupVolume'] === undefined) return boilsUnderway;
  if (record.kind === 'pack' && record.typed['jars'] === undefined) return packsUnderway;
  return kindByName.get(record.kind);
}
