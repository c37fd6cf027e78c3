import type { Reading } from '../season/lot.js';

/** An event: the fields that every one has, and those of its kind. */
export interface EpcisEvent {
  readonly type: 'ObjectEvent' | 'TransformationEvent';
  readonly eventID: string;
  readonly eventTime: string;
  readonly eventTimeZoneOffset: string;
  readonly [field: string]: unknown;
}

/** Addresses of things: every name in the document is one. */
export interface EpcisNames {
  readonly lot: (code: string) => string;
  /** Jars of a pack, counted; the syrup of the pack is `lot`. */
  readonly jars: (code: string) => string;
  readonly jar: (code: string) => string;
  readonly place: (name: string) => string;
  readonly instrument: (id: string) => string;
  readonly event: (kind: string, id: string) => string;
  readonly term: (name: string) => string;
}

export function epcisNames(base: string): EpcisNames {
  const under =
    (folder: string) =>
    (name: string): string =>
      `${base}/${folder}/${encodeURIComponent(name)}`;
  return {
    lot: under('lot'),
    jars: (code) => `${base}/lot/${encodeURIComponent(code)}/jars`,
    jar: (code) => `${base}/J/${encodeURIComponent(code)}`,
    place: under('place'),
    instrument: under('instrument'),
    event: (kind, id) => `${base}/event/${kind}/${encodeURIComponent(id)}`,
    term: (name) => `${base}/terms/${name}`,
  };
}

/** When something happened: the time as written, with its seconds, and its offset once more by itself. */
export function eventTimes(iso: string): { eventTime: string; eventTimeZoneOffset: string } {
  return { eventTime: fullTime(iso), eventTimeZoneOffset: /([+-]\d{2}:\d{2})$/.exec(iso)?.[1] ?? '+00:00' };
}

export const fullTime = (iso: string): string => iso.replace(/T(\d{2}:\d{2})(?=[Z+-])/, 'T$1:00');

/** Litres by the code that the standard uses, to a millilitre. */
export const litres = (epcClass: string, millilitres: number): object => ({
  epcClass,
  quantity: Math.round(millilitres) / 1000,
  uom: 'LTR',
});

/**
 * Readings as sensor reports: temperatures in the unit they were read in, densities as typed, for the standard has no
 * measure of °Bx. Empty where nothing was read.
 */
export function sensors(names: EpcisNames, readings: readonly Reading[]): { sensorElementList?: readonly object[] } {
  const reports = readings.filter((reading) => reading.celsius !== null || ['Bx', 'Be', 'SG'].includes(reading.unit));
  if (reports.length === 0) return {};
  return {
    sensorElementList: reports.map((reading) => ({
      sensorReport: [
        {
          ...(reading.celsius === null
            ? { type: 'Density', stringValue: reading.typed }
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
