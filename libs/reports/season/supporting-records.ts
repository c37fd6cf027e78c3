/** Supporting records: instruments, cleaning, supplies, water, complaints and others. */
export interface SupportingRecords {
  readonly instruments: readonly Instrument[];
  readonly instrumentChecks: readonly InstrumentCheck[];
  readonly failedInstruments: readonly FailedInstrument[];
  readonly cleanings: readonly Cleaning[];
  readonly filterWashings: readonly FilterWashing[];
  readonly equipment: readonly Equipment[];
  readonly supplies: readonly Supply[];
  readonly defoamers: readonly Defoamer[];
  readonly waterTests: readonly WaterTest[];
  readonly leadTests: readonly LeadTest[];
  readonly practiceRecalls: readonly MockRecall[];
  readonly complaints: readonly Complaint[];
  readonly trainings: readonly Training[];
  /** Licences and registrations, whenever they were recorded. */
  readonly licences: readonly Licence[];
  /** Kinds without a section of their own. */
  readonly others: readonly OtherRecords[];
}

/** Records of one kind as typed, in the columns that its declaration names; null where nothing was typed. */
export interface OtherRecords {
  readonly name: string;
  readonly columns: readonly string[];
  readonly rows: readonly { readonly at: string; readonly by: string; readonly cells: readonly (string | null)[] }[];
}

/** `kind` as typed: thermometer, hydrometer, refractometer, scale. */
export interface Instrument {
  readonly id: string;
  readonly kind: string;
  readonly description: string;
}

/** A check against a known point. `pass` is null where neither a result nor both readings were recorded. */
export interface InstrumentCheck {
  readonly instrument: string;
  readonly checkedAt: string;
  /** `ice point`, `boiling water`, `test weight` … */
  readonly against: string;
  readonly expectedTyped: string | null;
  readonly foundTyped: string | null;
  readonly pass: boolean | null;
  readonly by: string;
  readonly suspectLots: readonly string[];
}

/** An instrument in use whose failed check no later one put right. */
export interface FailedInstrument {
  readonly instrument: string;
  /** When it failed, ISO, and against what: `ice point`. */
  readonly at: string;
  readonly against: string;
}

export interface Cleaning {
  readonly at: string;
  readonly what: string;
  readonly withWhat: string;
  readonly strength: string | null;
  /** As typed: `hot water, three times`, `no, forgot`. */
  readonly rinsed: string | null;
  /** Bleach was named with an acid or with ammonia; absent otherwise. */
  readonly mixed?: 'acid' | 'ammonia';
  readonly by: string;
}

export interface FilterWashing {
  readonly at: string;
  readonly filter: string;
  readonly how: string | null;
  readonly by: string;
}

export interface Equipment {
  readonly id: string;
  readonly name: string;
  readonly material: string | null;
  readonly year: string | null;
  /** Solder, terneplate or galvanized parts, as typed. */
  readonly solder: string | null;
  readonly note: string | null;
}

export interface Licence {
  readonly what: string;
  readonly number: string;
  /** As typed; null where it was blank. */
  readonly until: string | null;
}

/** Jars and lids, one step back: the supplier, and the lots packed in them. */
export interface Supply {
  readonly id: string;
  readonly item: string;
  readonly supplier: string;
  readonly supplierLot: string | null;
  readonly receivedAt: string;
  readonly lots: readonly string[];
}

/** A defoamer as bought; what went into each boil is recorded with the boil. */
export interface Defoamer {
  readonly name: string;
  readonly allergens: string | null;
}

export interface WaterTest {
  readonly at: string;
  readonly source: string;
  readonly laboratory: string | null;
  readonly outcome: string;
}

/** Test of a lot or of a piece of equipment, whenever it was made; the other is null. */
export interface LeadTest {
  readonly at: string;
  readonly lot: string | null;
  readonly equipment: string | null;
  readonly laboratory: string | null;
  readonly typed: string;
  readonly ppb: number;
}

export interface MockRecall {
  readonly at: string;
  readonly lot: string;
  readonly minutes: number | null;
  /** Null where the record has no balance. */
  readonly jarsMade: number | null;
  readonly jarsFound: number | null;
  /** Jars that a person counted on the shelf for it; null where nobody counted and the book's own balance closed it. */
  readonly counted: number | null;
  /** Whether it was closed; one that was begun and never closed doesn't count. */
  readonly closed: boolean;
  readonly words: string;
  readonly by: string;
}

export interface Complaint {
  readonly at: string;
  readonly code: string | null;
  readonly words: string;
  /** Seal, mould, smell and density of the jar; empty where nobody has inspected it. */
  readonly seen: string;
  readonly done: string;
  readonly by: string;
}

export interface Training {
  readonly at: string;
  readonly initials: string;
  readonly subject: string;
}
