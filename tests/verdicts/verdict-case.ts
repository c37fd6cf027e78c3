/** What a person, a file or a script enters, step by step. */
export type Texts = Readonly<Record<string, string>>;
export type Step =
  | { readonly record: string; readonly fields: Texts }
  | { readonly add: string; readonly to: string; readonly fields: Texts }
  | { readonly correct: string; readonly of: string; readonly why: string; readonly fields: Texts }
  | { readonly void: string; readonly of: string; readonly why: string }
  | { readonly mark: 'hold' | 'release' | 'recall'; readonly lot: string; readonly fields: Texts };

/** An evening of packing, and the state its lot must have afterwards. */
export interface VerdictCase {
  /** A true sentence, which names the test. */
  readonly is: string;
  readonly house?: Texts;
  /** Replaces the two good checks of T1. */
  readonly checks?: readonly Step[];
  readonly gathering?: Texts;
  readonly boil?: Texts;
  readonly pack?: Texts;
  readonly before?: readonly Step[];
  readonly after?: readonly Step[];
  /** 26077A-1 by default. */
  readonly lot?: string;
  /** Undefined where the refused step would have made the lot. */
  readonly state?: 'open' | 'held' | 'released' | 'recalled';
  /** A rule that must hold the lot; a sound case has none. */
  readonly rule?: string;
  /** An advisory that must appear. */
  readonly advises?: string;
  /** A text in the finding, its limit or its way out. */
  readonly says?: RegExp;
  /** The jars that are held, as `[from, to]`. */
  readonly jars?: readonly (readonly [number, number])[];
  /** The last step is refused, with a message like this. */
  readonly refuses?: RegExp;
}

export const pack = '26077A-1';

export const record = (plural: string, fields: Texts): Step => ({ record: plural, fields });
export const add = (plural: string, to: string, fields: Texts): Step => ({ add: plural, to, fields });
export const correct = (kind: string, of: string, fields: Texts, why = 'read the wrong line'): Step => ({
  correct: kind,
  of,
  why,
  fields,
});
/** A record that did not happen: `remove('check', 'CK1')`. */
export const remove = (kind: string, of: string, why = 'entered by mistake'): Step => ({ void: kind, of, why });
export const release = (why = 'read again, all well', lot = pack, more: Texts = {}): Step => ({
  mark: 'release',
  lot,
  fields: { why, ...more },
});
export const hold = (lot = pack): Step => ({ mark: 'hold', lot, fields: { why: 'a lid that did not sit' } });
export const recall = (lot = pack): Step => ({ mark: 'recall', lot, fields: { why: 'mould in two jars' } });

let checked = 0;
/** A check of a thermometer; without `should`, the right value for its kind. */
export const check = (how: string, reads: string, more: Texts = {}): Step =>
  record('checks', {
    id: `CK${++checked}`,
    instrument: 'T1',
    at: '2026-03-17T08:00',
    how,
    ...(how === 'ice' ? { should: '32 F' } : how === 'boiling-water' ? { should: '210.4 F' } : {}),
    ...(reads === '' ? {} : { reads }),
    ...more,
  });
/** In ice and at the boil. */
export const checks = (ice: string, boiling: string, more: Texts = {}): Step[] => [
  check('ice', ice, more),
  check('boiling-water', boiling, more),
];
export const act = (fields: Texts): Step =>
  record('actions', {
    lot: pack,
    at: '2026-03-19T15:00',
    found: 'a jar read too cold',
    done: 'poured back, heated to 195 F, filled again in fresh hot jars',
    cause: 'cold-jar',
    ...fields,
  });
export const complaint = (formatted: string, more: Texts = {}): Step =>
  record('complaints', {
    lot: pack,
    at: '2026-04-20T10:00',
    from: 'a buyer at Millrace Green',
    said: formatted,
    ...more,
  });
export const send = (jars: string, more: Texts = {}): Step =>
  record('dispatches', { lot: pack, jars, sentAt: '2026-04-11T09:00', to: 'Millrace Green market', ...more });

const base: Readonly<Record<'gathering' | 'boil' | 'pack', Texts>> = {
  gathering: {
    id: 'G001',
    gatheredAt: '2026-03-17T16:30',
    source: 'North slope, buckets',
    volume: '120 gal',
    sugar: '2.1 Bx',
    by: 'OE',
  },
  boil: {
    beganAt: '2026-03-18T07:30',
    finishedAt: '2026-03-18T19:00',
    gatherings: 'G001:120 gal',
    filterTemp: '190 F',
    filterMedium: 'wool cone',
    defoamer: 'none',
    restedFrom: '2026-03-18T20:00',
    restedUntil: '2026-03-19T09:00',
    syrupVolume: '3 gal',
    by: 'WE',
  },
  pack: {
    fromLots: '26077A:1.5 gal',
    packedAt: '2026-03-19T10:00',
    hotPackTemp: '190 F',
    densityReading: '60.4 Bx',
    densityAt: '185 F',
    densityBy: 'hydrometer',
    container: 'glass jar 8 fl oz',
    containerPrep: 'boiled 10 min, filled hot',
    jars: '24',
    fillTemps: '186 F@10:05#T1 jar 1;185 F@10:15#T1 jar 12;184 F@10:25#T1 jar 24',
    sealsFailed: '0',
    transmittance: '61 %',
    clarity: 'clear',
    offFlavour: 'none',
    by: 'OE',
  },
};

/** A second pack like the first, or a second boil like the first, where given another code or time. */
export const another = (kind: 'boil' | 'pack', fields: Texts): Step =>
  record(
    `${kind}s`,
    Object.fromEntries(Object.entries({ ...base[kind], ...fields }).filter(([, text]) => text !== '')),
  );

/** All steps of a case in order; a blank text leaves a field of the base out. */
export function stepsOf(of: VerdictCase): Step[] {
  const made = (kind: keyof typeof base, plural: string): Step =>
    record(
      plural,
      Object.fromEntries(Object.entries({ ...base[kind], ...of[kind] }).filter(([, text]) => text !== '')),
    );
  return [
    record('instruments', { id: 'T1', what: 'thermometer', at: '2026-03-01T09:00' }),
    ...(of.checks ?? checks('32 F', '210.4 F')),
    ...(of.before ?? []),
    made('gathering', 'gatherings'),
    made('boil', 'boils'),
    made('pack', 'packs'),
    ...(of.after ?? []),
  ];
}

/** The density of a pack, as its fields. */
export const density = (reading: string, at: string, by = 'hydrometer'): Texts => ({
  densityReading: reading,
  densityAt: at,
  densityBy: by,
});

/** A pack with these readings in the jar. */
export const one = (reading: string): Texts => ({ fillTemps: reading });

/** A case that must end open. */
export const open = (is: string, of: Omit<VerdictCase, 'is' | 'state'>): VerdictCase => ({ is, state: 'open', ...of });
