import { densityAtReading } from '#libs/syrup/science/corrected.js';
import type { DensityReading } from '#libs/syrup/quantities/quantities.js';
import type { Reading } from '../season/lot.js';

/** An event: the fields common to all, and those of its type. */
export interface EpcisEvent {
  readonly type: 'ObjectEvent' | 'TransformationEvent';
  readonly eventID: string;
  readonly eventTime: string;
  readonly eventTimeZoneOffset: string;
  readonly [field: string]: unknown;
}

/**
 * URIs of things: every name in the document is one. A lot has one class, whether its sap or syrup is measured in
 * litres or its jars are counted; where its labels carry the maker's GTIN, the class and the jars are GS1 Digital
 * Links.
 */
export interface EpcisNames {
  readonly lot: (code: string) => string;
  readonly jar: (lot: string, code: string) => string;
  /** Where its jars are filled and stored. */
  readonly house: string;
  readonly place: (name: string) => string;
  readonly instrument: (id: string) => string;
  readonly event: (kind: string, id: string) => string;
  readonly term: (name: string) => string;
}

/** The identifiers of an EPCIS document, all below one base address; those of packs with a GTIN are made from it. */
export function epcisNames(base: string, gtins: ReadonlyMap<string, string> = new Map()): EpcisNames {
  const under =
    (folder: string) =>
    (name: string): string =>
      `${base}/${folder}/${encodeURIComponent(name)}`;
  const digitalLink = (code: string): string | undefined => {
    const gtin = gtins.get(code);
    return gtin === undefined ? undefined : `${base}/01/${gtin.padStart(14, '0')}/10/${encodeURIComponent(code)}`;
  };
  return {
    lot: (code) => digitalLink(code) ?? under('lot')(code),
    jar: (lot, printed) => {
      const code = printed.replace(/-/g, '');
      const link = digitalLink(lot);
      return link === undefined ? `${base}/J/${code}` : `${link}/21/${code}`;
    },
    house: `${base}/place/sugarhouse`,
    place: under('place'),
    instrument: under('instrument'),
    event: (kind, id) => `${base}/event/${kind}/${encodeURIComponent(id)}`,
    term: (name) => `${base}/terms/${name}`,
  };
}

/** When something happened: the time as recorded, with seconds, and its offset again on its own. */
export function eventTimes(iso: string): { eventTime: string; eventTimeZoneOffset: string } {
  return { eventTime: fullTime(iso), eventTimeZoneOffset: /([+-]\d{2}:\d{2})$/.exec(iso)?.[1] ?? '+00:00' };
}

/** A time with seconds, which EPCIS requires. */
export const fullTime = (iso: string): string => iso.replace(/T(\d{2}:\d{2})(?=[Z+-])/, 'T$1:00');

/** Litres under the standard's unit code, to a millilitre. */
export const litres = (epcClass: string, millilitres: number): object => ({
  epcClass,
  quantity: Math.round(millilitres) / 1000,
  uom: 'LTR',
});

/**
 * Readings as sensor reports: temperatures in the unit they were read in; densities in kg/m³ (KMQ), for the standard
 * has no unit for °Bx. A density is the scale reading at its own temperature, not corrected for the sample's; the
 * reading is included as typed. Empty where nothing was read.
 */
export function sensors(names: EpcisNames, readings: readonly Reading[]): { sensorElementList?: readonly object[] } {
  const reports = readings.filter((reading) => reading.celsius !== null || ['Bx', 'Be', 'SG'].includes(reading.unit));
  if (reports.length === 0) return {};
  return {
    sensorElementList: reports.map((reading) => ({
      sensorReport: [
        {
          ...(reading.celsius === null
            ? { type: 'Density', ...kilograms(reading) }
            : { type: 'Temperature', value: reading.number, uom: reading.unit === 'F' ? 'FAH' : 'CEL' }),
          ...(reading.takenAt === null ? {} : { time: fullTime(reading.takenAt) }),
          ...(reading.instrument === null ? {} : { deviceID: names.instrument(reading.instrument) }),
          'boilbook:reading': reading.kind,
          'boilbook:typed': reading.typed,
          ...(reading.by === null ? {} : { 'boilbook:by': reading.by }),
        },
      ],
    })),
  };
}

const hydrometersAreMadeForCelsius = ((60 - 32) * 5) / 9;

/** A reading outside the range of the published formula has no converted value. */
function kilograms({ unit, number, typed }: Reading): object {
  const reading: DensityReading = { typed, scale: unit as DensityReading['scale'], reading: number };
  const density = densityAtReading(reading, hydrometersAreMadeForCelsius);
  return Number.isFinite(density) ? { value: Math.round(density * 10) / 10, uom: 'KMQ' } : { stringValue: typed };
}

/** Where it happened and where the things are afterwards: at the sugarhouse. */
export const atHouse = (names: EpcisNames): object => ({ ...readAtHouse(names), bizLocation: { id: names.house } });
/** The read point of an event at the sugarhouse. */
export const readAtHouse = (names: EpcisNames): object => ({ readPoint: { id: names.house } });
