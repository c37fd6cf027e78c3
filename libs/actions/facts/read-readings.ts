import type { LineBody } from '#libs/records/kinds/boil-line.js';
import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { DrawBody } from '#libs/records/kinds/draw.js';
import type { GatheringBody } from '#libs/records/kinds/gathering.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import type { DensityReading, Percent, Temperature } from '#libs/syrup/quantities/quantities.js';
import type { Reading, ReadingKind } from '#libs/reports/season/lot.js';

interface Circumstances {
  readonly at: string | null;
  readonly by: string | null;
  readonly instrument?: string | null;
  readonly isSuspect?: boolean;
}

/** A temperature as a reading for the season's documents; empty where it was not read. */
export const temperatureReading = (
  kind: ReadingKind,
  read: Temperature | undefined,
  circumstances: Circumstances,
): Reading[] =>
  read
    ? [
        {
          kind,
          typed: read.typed,
          unit: read.unit,
          number: read.degrees,
          celsius: read.celsius,
          ...circumstanceFields(circumstances),
        },
      ]
    : [];

/** A density as a reading for the season's documents; empty where it was not read. */
export const densityReading = (
  kind: ReadingKind,
  read: DensityReading | undefined,
  circumstances: Circumstances,
): Reading[] =>
  read
    ? [
        {
          kind,
          typed: read.typed,
          unit: read.scale,
          number: read.reading,
          celsius: null,
          ...circumstanceFields(circumstances),
        },
      ]
    : [];

const percentReading = (kind: ReadingKind, read: Percent | undefined, circumstances: Circumstances): Reading[] =>
  read
    ? [
        {
          kind,
          typed: read.typed,
          unit: '%',
          number: read.percent,
          celsius: null,
          ...circumstanceFields(circumstances),
        },
      ]
    : [];

const circumstanceFields = ({ at, by, instrument = null, isSuspect = false }: Circumstances) => ({
  takenAt: at,
  instrument,
  by,
  isSuspect,
});

/** The readings of a pack, or the new ones of a corrective action, in the order in which they are taken. */
export function packReadings(
  read: Pick<PackBody, 'hotPackTemp' | 'densityReading' | 'densityAt' | 'densityBy' | 'fillTemps' | 'by'> & {
    transmittance?: Percent | undefined;
  },
  at: string,
  suspectInstruments: ReadonlySet<string>,
): Reading[] {
  const of = { at: null, by: read.by };
  return [
    ...temperatureReading('hot pack', read.hotPackTemp, of),
    ...densityReading('density', read.densityReading, {
      ...of,
      instrument: read.densityBy ?? null,
    }),
    ...temperatureReading('density sample', read.densityAt, of),
    ...read.fillTemps.flatMap((fill) =>
      temperatureReading('fill', fill.temperature, {
        at: takenAt(fill, at),
        by: read.by,
        instrument: fill.thermometer ?? null,
        isSuspect: fill.thermometer !== undefined && suspectInstruments.has(fill.thermometer),
      }),
    ),
    ...percentReading('transmittance', read.transmittance, of),
  ];
}

/** `14:10` is on the day of the pack, with the pack's offset; a full date and time is used as written. */
function takenAt(fill: FillReading, packedAt: string): string | null {
  if (fill.clock === undefined) return null;
  if (fill.clock.includes('T'))
    return /[Z+-]\d\d:?\d\d$|Z$/.test(fill.clock) ? fill.clock : `${fill.clock}${packedAt.slice(19)}`;
  const clock = fill.clock.length === 5 ? `${fill.clock}:00` : fill.clock;
  return `${packedAt.slice(0, 10)}T${clock}${packedAt.slice(19)}`;
}

/** The readings of a boil, in the order of the work. */
export function boilReadings(boil: BoilBody): Reading[] {
  const of = { at: null, by: boil.by };
  return [
    ...densityReading('sap sugar', boil.sapSugar, of),
    ...temperatureReading('water boils', boil.waterBoilsAt, of),
    ...temperatureReading('finish', boil.finishTemp, of),
    ...temperatureReading('filter', boil.filterTemp, of),
  ];
}

/** A line of the boil's log that has a temperature; the pan is in its note where one is named. */
export const panReadings = (line: LineBody): Reading[] =>
  temperatureReading(line.what === 'draw-off' ? 'draw' : 'pan', line.temperature, { at: line.at, by: line.by });

/** The readings of a draw-off. */
export const drawReadings = (draw: DrawBody): Reading[] => [
  ...temperatureReading('draw', draw.temp, { at: draw.drawnAt, by: draw.by }),
  ...temperatureReading('filter', draw.filterTemp, { at: draw.drawnAt, by: draw.by }),
];

/** The readings of gathered sap. */
export const gatheringReadings = (gathering: GatheringBody): Reading[] => [
  ...densityReading('sap sugar', gathering.sugar, { at: gathering.gatheredAt, by: gathering.by }),
  ...temperatureReading('sap temperature', gathering.temperature, { at: gathering.gatheredAt, by: gathering.by }),
];
