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
 * What a record of each kind holds once it is parsed is declared in the file of its kind: instants as ISO 8601 with
 * their offset, quantities as typed beside SI. Absent means not read; nothing is ever filled in.
 */

/** What each supporting record holds: one line a kind, declared in `libs/actions/kinds/supporting`. */
export interface SupportingByKind {
  readonly instrument: SupportingRecordBody;
  /** Of an instrument: ice point, boiling water, reference. */
  readonly check: CheckBody;
  readonly equipment: SupportingRecordBody;
  readonly cleaning: SupportingRecordBody;
  readonly filter: SupportingRecordBody;
  /** Containers, lids, filter aid, defoamer, with the supplier's lot. */
  readonly supply: SupportingRecordBody;
  readonly 'water-test': SupportingRecordBody;
  /** Of syrup, or of what a part gives off. */
  readonly 'lead-test': SupportingRecordBody;
  readonly complaint: SupportingRecordBody;
  readonly training: SupportingRecordBody;
  readonly licence: SupportingRecordBody;
  readonly 'practice-recall': SupportingRecordBody;
  /** A season's close, signed. */
  readonly season: SeasonCloseBody;
  readonly labels: LabelRunBody;
}

/** What each kind of record holds. A kind that is not here does not compile. */
export interface RecordByKind extends SupportingByKind {
  readonly gathering: GatheringBody;
  readonly receipt: ReceiptBody;
  readonly boil: BoilBody;
  readonly pack: PackBody;
  readonly line: LineBody;
  readonly draw: DrawBody;
  readonly dispatch: DispatchBody;
  readonly count: CountBody;
  /** Sap or syrup used at the house, thrown out, spilt, lost as it cooled. */
  readonly spent: DisposalBody;
  /** A corrective action on a lot, with the readings that prove it. */
  readonly action: ActionBody;
  /** A sheet or roll of labels of the house's own, by its geometry. */
  readonly stock: SupportingRecordBody;
  /** The answer to a question that a text about spoilage raised. */
  readonly answer: SupportingRecordBody;
  /** A maker's initials under jars reported as already gone. */
  readonly acknowledgement: AcknowledgementBody;
  /** Who was called in a recall, when and by whom. */
  readonly 'recall-call': RecallCallBody;
  /** A second person went through a lot's records. */
  readonly verification: VerificationBody;
  /** Name, address, place, zone: the maker as on every page and label. */
  readonly house: HouseBody;
}

export type RecordKind = keyof RecordByKind;
export type SupportingName = keyof SupportingByKind;
/** The kinds that are lots. */
export type LotKind = 'gathering' | 'receipt' | 'boil' | 'pack';
