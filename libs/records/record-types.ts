import type { AcknowledgementBody } from './kinds/acknowledgement.js';
import type { LineBody } from './kinds/boil-line.js';
import type { BoilBody } from './kinds/boil.js';
import type { ActionBody } from './kinds/corrective-action.js';
import type { CountBody } from './kinds/count.js';
import type { DispatchBody } from './kinds/dispatch.js';
import type { DisposalBody } from './kinds/disposal.js';
import type { DrawBody } from './kinds/draw.js';
import type { GatheringBody } from './kinds/gathering.js';
import type { HouseBody } from './kinds/house.js';
import type { CheckBody } from './kinds/instrument-check.js';
import type { LabelRunBody } from './kinds/label-run.js';
import type { PackBody } from './kinds/pack.js';
import type { RecallCallBody } from './kinds/recall-call.js';
import type { ReceiptBody } from './kinds/receipt.js';
import type { SeasonCloseBody } from './kinds/season-close.js';
import type { SupportingRecordBody } from './kinds/supporting-record.js';
import type { VerificationBody } from './kinds/verification.js';

/*
 * The parsed content of each kind is declared in the kind's own file: instants as ISO 8601 with their offset,
 * quantities as typed and in SI. Absent means not read; nothing is ever filled in.
 */

/** The body of each supporting record: one line per kind, declared in `libs/actions/kinds/supporting`. */
export interface SupportingByKind {
  readonly instrument: SupportingRecordBody;
  /** A check of an instrument in ice water, boiling water or against a reference. */
  readonly check: CheckBody;
  readonly equipment: SupportingRecordBody;
  readonly cleaning: SupportingRecordBody;
  readonly filter: SupportingRecordBody;
  /** Containers, lids, filter aid, defoamer, with the supplier's lot. */
  readonly supply: SupportingRecordBody;
  readonly 'water-test': SupportingRecordBody;
  /** A lead test of syrup, or of what a part releases. */
  readonly 'lead-test': SupportingRecordBody;
  readonly complaint: SupportingRecordBody;
  readonly training: SupportingRecordBody;
  readonly licence: SupportingRecordBody;
  readonly 'practice-recall': SupportingRecordBody;
  /** The signed closing of a season. */
  readonly season: SeasonCloseBody;
  readonly labels: LabelRunBody;
}

/** The body of each kind of record. A kind that is not here does not compile. */
export interface RecordByKind extends SupportingByKind {
  readonly gathering: GatheringBody;
  readonly receipt: ReceiptBody;
  readonly boil: BoilBody;
  readonly pack: PackBody;
  readonly line: LineBody;
  readonly draw: DrawBody;
  readonly dispatch: DispatchBody;
  readonly count: CountBody;
  /** Sap or syrup used at home, thrown out, spilt, lost in cooling. */
  readonly spent: DisposalBody;
  /** A corrective action on a lot, with the readings that prove it. */
  readonly action: ActionBody;
  /** The sugarhouse's own sheet or roll of labels, by its geometry. */
  readonly stock: SupportingRecordBody;
  /** The answer to a question raised by a text about spoilage. */
  readonly answer: SupportingRecordBody;
  /** A maker's initials on a report of jars that had already left. */
  readonly acknowledgement: AcknowledgementBody;
  /** Who was called in a recall, when and by whom. */
  readonly 'recall-call': RecallCallBody;
  /** A second person's review of a lot's records. */
  readonly verification: VerificationBody;
  /** Name, address, place, zone: the maker's details on every page and label. */
  readonly house: HouseBody;
}

export type RecordKind = keyof RecordByKind;
export type SupportingName = keyof SupportingByKind;
/** The kinds that are lots. */
export type LotKind = 'gathering' | 'receipt' | 'boil' | 'pack';
