/** What stands beside the boils: instruments, cleaning, supplies, water, complaints and the rest. */
export interface SideRecords {
  readonly instruments: readonly Instrument[];
  readonly instrumentChecks: readonly InstrumentCheck[];
  readonly cleanings: readonly Cleaning[];
  readonly filterWashings: readonly FilterWashing[];
  readonly equipment: readonly Equipment[];
  readonly supplies: readonly Supply[];
  readonly defoamers: readonly Defoamer[];
  readonly waterTests: readonly WaterTest[];
  readonly practiceRecalls: readonly PracticeRecall[];
  readonly complaints: readonly Complaint[];
  readonly trainings: readonly Training[];
}

export interface Instrument {
  readonly id: string;
  readonly kind: 'thermometer' | 'hydrometer' | 'refractometer' | 'scale';
  readonly description: string;
}

/** A check against a known point; `pass` is the maker's finding, `inDoubt` the lots read with it meanwhile. */
export interface InstrumentCheck {
  readonly instrument: string;
  readonly checkedAt: string;
  /** `ice point`, `boiling water`, `test weight` … */
  readonly against: string;
  readonly expectedTyped: string;
  readonly foundTyped: string;
  readonly pass: boolean;
  readonly by: string;
  readonly lotsInDoubt: readonly string[];
}

export interface Cleaning {
  readonly at: string;
  readonly what: string;
  readonly withWhat: string;
  readonly strength: string | null;
  readonly rinsed: boolean | null;
  readonly by: string;
}

export interface FilterWashing {
  readonly at: string;
  readonly filter: string;
  readonly how: string;
  readonly by: string;
}

export interface Equipment {
  readonly name: string;
  readonly material: string;
  readonly year: string | null;
  readonly leadRisk: string | null;
}

/** Jars and lids, one step back: whose they were, and the lots packed in them. */
export interface Supply {
  readonly id: string;
  readonly item: string;
  readonly supplier: string;
  readonly supplierLot: string | null;
  readonly receivedAt: string;
  readonly lots: readonly string[];
}

export interface Defoamer {
  readonly name: string;
  readonly allergens: string | null;
}

export interface WaterTest {
  readonly at: string;
  readonly source: string;
  readonly laboratory: string;
  readonly outcome: string;
}

export interface PracticeRecall {
  readonly at: string;
  readonly lot: string;
  readonly minutes: number | null;
  readonly jarsMade: number;
  readonly jarsFound: number;
  /** Begun and not closed, it was none. */
  readonly closed: boolean;
  readonly words: string;
  readonly by: string;
}

export interface Complaint {
  readonly at: string;
  readonly code: string | null;
  readonly words: string;
  /** Seal, mould, smell and density of the jar; empty where nobody has looked at it. */
  readonly seen: string;
  readonly done: string;
  readonly by: string;
}

export interface Training {
  readonly at: string;
  readonly initials: string;
  readonly subject: string;
}
