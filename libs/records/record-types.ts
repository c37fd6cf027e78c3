import type { CheckInterval } from '#libs/syrup/quantities/check-interval.js';
import type { Container } from '#libs/syrup/quantities/container.js';
import type { DensityInstrument } from '#libs/syrup/science/density.js';
import type { ShouldFrom } from '#libs/syrup/instruments/instrument-checks.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import type { NamedJars } from '#libs/syrup/quantities/jar-spans.js';
import type { DensityReading, Length, Percent, Temperature, Volume } from '#libs/syrup/quantities/quantities.js';

/**
 * What each kind of record holds once it has been read: instants as ISO 8601 with their offset,
 * quantities as typed beside SI. Absent means not read; nothing is ever filled in.
 */
type Maybe<T> = T | undefined;

/** How much of one lot went into another. `typed` is empty where all that was left was taken. */
export interface Portion {
  readonly lot: string;
  readonly typed: string;
  readonly millilitres: number;
}

export interface GatheringBody {
  readonly gatheredAt: string;
  readonly source: string;
  readonly volume: Volume;
  readonly sugar?: Maybe<DensityReading>;
  readonly temperature?: Maybe<Temperature>;
  readonly condition: string;
  readonly by: string;
}

export interface ReceiptBody {
  readonly receivedAt: string;
  readonly supplier: string;
  readonly contact: string;
  readonly theirLot: string;
  readonly volume: Volume;
  readonly density?: Maybe<DensityReading>;
  /** Of syrup: what its maker answered for the defoamer; absent in books older than the field. */
  readonly allergens?: string;
  readonly by: string;
}

export interface BoilBody {
  readonly beganAt: string;
  readonly finishedAt?: Maybe<string>;
  readonly gatherings: readonly Portion[];
  readonly carriedFrom: readonly Portion[];
  readonly sapVolume?: Maybe<Volume>;
  readonly sapSugar?: Maybe<DensityReading>;
  readonly waterBoilsAt?: Maybe<Temperature>;
  readonly finishTemp?: Maybe<Temperature>;
  readonly filterTemp?: Maybe<Temperature>;
  readonly filterMedium: string;
  readonly defoamer: string;
  readonly defoamerAllergens: string;
  readonly restedFrom?: Maybe<string>;
  readonly restedUntil?: Maybe<string>;
  /** Absent while the boil is still going. */
  readonly syrupVolume?: Maybe<Volume>;
  readonly instruments?: readonly string[];
  readonly by: string;
  readonly note: string;
}

export interface LineBody {
  readonly at: string;
  readonly what: string;
  readonly pan: string;
  readonly temperature?: Maybe<Temperature>;
  readonly density?: Maybe<DensityReading>;
  /** The ids written on what the readings were taken with; absent in books older than the field. */
  readonly instruments?: readonly string[];
  readonly by: string;
  readonly note: string;
}

export interface DrawBody {
  readonly boil: string;
  readonly drawnAt: string;
  readonly volume: Volume;
  readonly temp?: Maybe<Temperature>;
  readonly filterTemp?: Maybe<Temperature>;
  readonly filterMedium: string;
  readonly vessel: string;
  readonly instruments?: readonly string[];
  readonly by: string;
}

export interface PackBody {
  /** Blank is pure maple syrup; absent in books older than the field. */
  readonly product?: string;
  readonly fromLots: readonly Portion[];
  readonly packedAt: string;
  readonly hotPackTemp?: Maybe<Temperature>;
  readonly densityReading?: Maybe<DensityReading>;
  readonly densityAt?: Maybe<Temperature>;
  readonly densityBy?: Maybe<DensityInstrument>;
  readonly densityCalibratedAt?: Maybe<Temperature>;
  /** What the kettle, the sample and the density were read with; the jars' readings name their own. */
  readonly instruments?: readonly string[];
  readonly container: Container;
  readonly containerPrep: string;
  /** Absent while jars are still being filled. */
  readonly jars?: Maybe<number>;
  readonly fillTemps: readonly FillReading[];
  /** Jars at which glass broke; absent in books older than the field. */
  readonly brokenGlass?: Maybe<NamedJars>;
  /** Absent until the seals were checked. */
  readonly sealsFailed?: Maybe<number>;
  readonly sealsOutcome: string;
  readonly transmittance?: Maybe<Percent>;
  readonly colourClass: string;
  readonly clarity: string;
  readonly offFlavour: string;
  /** Absent in books older than the field. */
  readonly mould?: Maybe<string>;
  readonly by: string;
  readonly note: string;
}

export type DispatchKind = 'sale' | 'gift' | 'sample' | 'kept' | 'retained' | 'broken' | 'destroyed' | 'returned';

export interface DispatchBody {
  readonly lot: string;
  readonly jars: number;
  /** The jars by their codes; empty where they were only counted. */
  readonly codes: readonly string[];
  readonly sentAt: string;
  readonly to: string;
  readonly kind: DispatchKind;
  readonly contact: string;
  readonly telephone?: Maybe<string>;
  /** Reported after the jars were gone, whatever the lot's status: it waits for a maker's initials. */
  readonly alreadyLeft?: Maybe<'yes'>;
  /** A sample for a laboratory, which may be sent of a held lot too. */
  readonly laboratory?: Maybe<'yes'>;
  /** Of jars that leave: how many of them had come back and were set apart. */
  readonly fromReturned?: Maybe<number>;
  /** Of returned jars: how many are still sealed; absent until they were inspected. */
  readonly sealed?: Maybe<number>;
  readonly keptHow?: Maybe<'cold' | 'warm' | 'not-known'>;
  readonly lookedAt?: Maybe<string>;
  readonly lookedBy?: Maybe<string>;
  readonly by: string;
}

/** A maker's initials under jars that were reported as already gone. */
export interface AcknowledgementBody {
  readonly dispatch: string;
  readonly at: string;
  readonly note: string;
  readonly by: string;
}

/** A call made in a recall; `reached` is absent where it was not recorded. */
export interface RecallCallBody {
  readonly lot: string;
  /** The other lots of the same recall, where it began from several. */
  readonly lots?: readonly string[] | undefined;
  readonly to: string;
  readonly at: string;
  readonly telephone?: Maybe<string>;
  readonly reached?: Maybe<'yes' | 'no'>;
  readonly spokeTo: string;
  readonly keptApart?: Maybe<number>;
  readonly note: string;
  readonly by: string;
}

/** A second person has gone through a lot's records. */
export interface VerificationBody {
  readonly lot: string;
  readonly at: string;
  readonly note: string;
  readonly by: string;
}

export interface CountBody {
  readonly lot: string;
  readonly jars: number;
  readonly countedAt: string;
  readonly by: string;
}

export type DisposalMethod = 'house' | 'thrown-out' | 'spilt' | 'shrink';

/** Sap or syrup that left its lot and went into no other. */
export interface DisposalBody {
  readonly lot: string;
  readonly how: DisposalMethod;
  /** As typed; blank means all that was left. */
  readonly typed: string;
  readonly millilitres: number;
  readonly at: string;
  readonly why: string;
  readonly by: string;
}

/** A record beside the lots: instrument, check, cleaning, supply, complaint and the rest, read field by field. */
export interface SupportingRecordBody {
  readonly at: string;
  readonly by: string;
  readonly [field: string]: unknown;
}

/** A text of such a record; empty where none was written. */
export function textIn(body: SupportingRecordBody, field: string): string {
  const text = body[field];
  return typeof text === 'string' ? text : '';
}

export interface HouseBody {
  readonly name: string;
  readonly address: string;
  readonly town: string;
  readonly postcode: string;
  readonly phone: string;
  readonly email: string;
  /** Name of the place whose rules apply; empty where none was set. */
  readonly place: string;
  readonly zone: string;
  readonly temperatures: 'F' | 'C';
  readonly volumes: 'gal' | 'L';
  /** Everything printed from a practice book is marked as practice. */
  readonly practice: boolean;
  /** How often a jar is read while a pack is filled; the usual interval where the maker set none. */
  readonly checkEvery?: Maybe<CheckInterval>;
  /** Absent in books older than the field. */
  readonly elevation?: Maybe<Length>;
  /** Whether jars between readings further apart than that are held; absent in books older than the field. */
  readonly gapsHold?: Maybe<'yes' | 'no'>;
  readonly publicUrl: string;
  readonly licence: string;
  /** Canada: whether the maker holds a federal licence, and its number. Absent in books older than the fields. */
  readonly federalLicence?: Maybe<'yes' | 'no'>;
  readonly federalLicenceNumber?: string;
  /** The authority to ask, as the maker wrote it down, and who confirmed it by telephone, when. */
  readonly authority?: string;
  readonly authorityPhone?: string;
  readonly authorityAddress?: string;
  readonly authorityWith?: string;
  readonly authorityOn?: Maybe<string>;
  /** Whether it confirmed a least density of the place that nobody had read; absent in books older than the field. */
  readonly leastDensityConfirmed?: Maybe<'yes' | 'no'>;
  /** Of two other places that the maker sells in; absent in books older than the fields, as what follows. */
  readonly authority2Place?: string;
  readonly authority2?: string;
  readonly authority2Phone?: string;
  readonly authority2Address?: string;
  readonly authority2With?: string;
  readonly authority2On?: Maybe<string>;
  readonly authority3Place?: string;
  readonly authority3?: string;
  readonly authority3Phone?: string;
  readonly authority3Address?: string;
  readonly authority3With?: string;
  readonly authority3On?: Maybe<string>;
  /** How labels look, by the names of libs/labels. */
  readonly labelTypeface?: Maybe<string>;
  readonly labelColour?: Maybe<string>;
  readonly labelLayout?: Maybe<string>;
  /** Whether a jar's public page tells its story. */
  readonly jarStory?: Maybe<'yes' | 'no'>;
  /** Prefix of its lot codes where a book has several sugarhouses; unique in the book. */
  readonly prefix?: string;
  readonly [field: string]: unknown;
}

/** Jars as typed, by number; `count` is how many of the pack that is, 0 where its jars were not counted yet. */
export interface ActionJars extends NamedJars {
  readonly count: number;
}

/** A corrective action on a lot; its readings replace the old ones of the jars it names. */
export interface ActionBody {
  readonly lot: string;
  readonly at: string;
  readonly found: string;
  /** What kind of action; absent in books older than the field. */
  readonly way?: Maybe<string>;
  /** The jars that it names, and the cause: without both it clears nothing. Absent in books older than the fields. */
  readonly jars?: Maybe<ActionJars>;
  readonly cause?: string;
  readonly done: string;
  readonly hotPackTemp?: Maybe<Temperature>;
  readonly fillTemps: readonly FillReading[];
  readonly densityReading?: Maybe<DensityReading>;
  readonly densityAt?: Maybe<Temperature>;
  readonly densityBy?: Maybe<DensityInstrument>;
  readonly densityCalibratedAt?: Maybe<Temperature>;
  readonly sealsFailed?: Maybe<number>;
  readonly sealsOutcome: string;
  readonly clarity: string;
  readonly offFlavour: string;
  readonly defoamerAllergens: string;
  /** Absent in books older than the fields. */
  readonly mould?: Maybe<string>;
  readonly jarsMouldy?: Maybe<number>;
  readonly jarsSound?: Maybe<number>;
  readonly instruments?: readonly string[];
  readonly by: string;
}

/** A check of an instrument: where it should have stood, and where it stood. */
export interface CheckBody {
  readonly at: string;
  readonly instrument: string;
  readonly how: string;
  readonly should?: Maybe<Temperature>;
  readonly reads?: Maybe<Temperature>;
  /** The maker's own word; absent in books older than the field. */
  readonly fit?: Maybe<'yes' | 'no'>;
  /** Where `should` came from; absent in books older than the field, where it was typed. */
  readonly shouldFrom?: Maybe<ShouldFrom>;
  readonly done: string;
  readonly by: string;
}

/** A run of labels: jars `from` to `to`, printed, spoiled or printed again. */
export interface LabelRunBody extends SupportingRecordBody {
  readonly stock: string;
  readonly from?: number;
  readonly to?: number;
  readonly what: string;
  readonly ended?: number;
}

export interface SeasonCloseBody extends SupportingRecordBody {
  readonly signed: string;
}

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
  /** The answer to a question that words of spoilage raised. */
  readonly answer: SupportingRecordBody;
  /** A maker's initials under jars reported as already gone. */
  readonly acknowledgement: AcknowledgementBody;
  /** Who was called in a recall, when and by whom. */
  readonly 'recall-call': RecallCallBody;
  /** A second person went through a lot's records. */
  readonly verification: VerificationBody;
  /** Name, address, place, zone: what every page and label says of the maker. */
  readonly house: HouseBody;
}

export type RecordKind = keyof RecordByKind;
export type SupportingName = keyof SupportingByKind;
/** The kinds that are lots. */
export type LotKind = 'gathering' | 'receipt' | 'boil' | 'pack';
