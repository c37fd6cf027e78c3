import type { Gathering, SeasonBoil } from '#libs/reports/season/flow.js';
import type { Reading, ReadingKind, SeasonLot } from '#libs/reports/season/lot.js';
import { parseDensity, parseTemperature, parseVolume } from '#libs/syrup/quantities/quantities.js';

export const gallons = (amount: number): number => Math.round(amount * 3785.411784 * 1000) / 1000;

export function temperature(
  kind: ReadingKind,
  typed: string,
  takenAt: string | null,
  instrument: string | null,
  by: string,
): Reading {
  const { value } = parseTemperature(typed);
  if (!value) throw new Error(`not a temperature: ${typed}`);
  return {
    kind,
    typed,
    unit: value.unit,
    number: value.degrees,
    celsius: value.celsius,
    takenAt,
    instrument,
    by,
    isSuspect: false,
  };
}

export function density(kind: ReadingKind, typed: string, takenAt: string | null, by: string): Reading {
  const { value } = parseDensity(typed);
  if (!value) throw new Error(`not a density: ${typed}`);
  return {
    kind,
    typed,
    unit: value.scale,
    number: value.reading,
    celsius: null,
    takenAt,
    instrument: 'H1',
    by,
    isSuspect: false,
  };
}

export const millilitres = (typed: string): number => {
  const { value } = parseVolume(typed);
  if (!value) throw new Error(`not a volume: ${typed}`);
  return value.millilitres;
};

export function gathering(
  id: string,
  gatheredAt: string,
  source: string,
  volumeTyped: string,
  sugar: string,
): Gathering {
  const readings = [
    density('sap sugar', sugar, gatheredAt, 'JP'),
    temperature('sap temperature', '36 F', gatheredAt, 'T2', 'JP'),
  ];
  return {
    id,
    gatheredAt,
    source,
    volumeTyped,
    millilitres: millilitres(volumeTyped),
    readings,
    condition: 'clear',
    by: 'JP',
  };
}

export function boil(
  lot: string,
  day: string,
  inputs: readonly [string, string][],
  sap: string,
  syrup: string,
): SeasonBoil {
  return {
    lot,
    beganAt: `${day}T18:05:00-04:00`,
    finishedAt: `${day}T23:40:00-04:00`,
    inputs: inputs.map(([code, typed]) => ({ code, volumeTyped: typed, millilitres: millilitres(typed) })),
    carriedFrom: [],
    sapVolumeTyped: sap,
    sapMillilitres: millilitres(sap),
    sapSugarTyped: '2.1 Bx',
    readings: [
      temperature('water boils', '211.0 F', `${day}T18:05:00-04:00`, 'T1', 'WE'),
      temperature('finish', '218.4 F', `${day}T23:05:00-04:00`, 'T1', 'WE'),
      temperature('filter', '190 F', `${day}T23:30:00-04:00`, 'T1', 'OE'),
    ],
    filterMedium: 'felt cone',
    defoamer: 'butter, a thumbnail',
    defoamerAllergens: 'milk',
    restedFrom: `${day}T23:45:00-04:00`,
    restedUntil: null,
    syrupVolumeTyped: syrup,
    syrupMillilitres: millilitres(syrup),
    by: 'WE',
    note: null,
    history: [],
    status: 'open',
    findings: [],
    deviations: [],
    verdictChanges: [],
    lateEntries: [],
    panLog: [],
  };
}

/** Its fill readings, all valid, and the judged density are taken from its readings. */
export function lot(code: string, boils: readonly string[], packedAt: string, more: Partial<SeasonLot>): SeasonLot {
  const read = (kind: Reading['kind']): Reading[] => (more.readings ?? []).filter((each) => each.kind === kind);
  const [density] = read('density').slice(-1);
  const lowest = read('fill').find((each) => each.typed === more.lowestFillTyped);
  return {
    lot: code,
    boils,
    boiled: boils.map((code) => ({
      code,
      kind: 'boil' as const,
      at: `2026-03-${10 + Number(code.slice(3, 5)) - 69}T18:05:00-04:00`,
    })),
    product: null,
    packedAt,
    container: 'glass jar 8 fl oz',
    containerMillilitres: 236.588,
    jarsMade: 0,
    jarsOnHand: 0,
    jarsSentOut: 0,
    jarsReturned: 0,
    jarsDestroyed: 0,
    jarsOther: 0,
    otherText: '',
    unaccounted: null,
    lowestFillF: null,
    lowestFillTyped: null,
    lowestFillBy: lowest?.instrument ?? null,
    fills: standing(read('fill')),
    uncoveredJars: [],
    densityJudged: density
      ? { typed: density.typed, sampleTyped: read('density sample').at(-1)?.typed ?? null, by: null, again: false }
      : null,
    brix: 67.1,
    brixUncertainty: 0.3,
    colour: 'Amber',
    syrupLitres: 0,
    status: 'open',
    findings: [],
    deviations: [],
    verdictChanges: [],
    inputs: boils.map((boilCode) => ({ code: boilCode, volumeTyped: '4 gal', millilitres: gallons(4) })),
    readings: [],
    containerPrep: 'jars boiled 10 min, kept hot',
    sealsFailed: 0,
    sealsOutcome: null,
    transmittancePercent: 61,
    clarity: 'clear',
    offFlavour: null,
    allergens: ['milk'],
    allergensSaid: 'milk',
    note: null,
    by: 'WE',
    sentTo: [],
    lateEntries: [],
    history: [],
    correctiveActions: [],
    statusWhy: null,
    released: null,
    countedAt: null,
    ...more,
  };
}

export const standing = (readings: readonly Reading[]): SeasonLot['fills'] =>
  readings.map((reading) => ({ reading, again: false, replaced: false }));

export function fills(day: string, hour: number, ...typed: string[]): Reading[] {
  return typed.map((text, index) =>
    temperature('fill', text, `${day}T${hour}:${String(5 + index * 12).padStart(2, '0')}:00-04:00`, 'T1', 'WE'),
  );
}

export function line(
  entry: number,
  at: string,
  by: string,
  kind: SeasonLot['history'][number]['kind'],
  text: string,
): SeasonLot['history'][number] {
  return { entry, at, by, kind, words: text, field: null, was: null, now: null, why: null };
}
