import { formatFillReading, formatPortion } from '#libs/format/format-reading.js';
import type { Portion } from '#libs/records/portion.js';
import { formatTemperature, formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import type { DensityReading, Temperature } from '#libs/syrup/quantities/quantities.js';
import { density, type Field, fillReadings, splitList, portions, temperature } from './fields.js';
import type { StoredFields } from './stored-fields.js';

/**
 * One field of a record in plain words, one item each for a list: `188 °F at 10:05, thermometer T1` instead of the file
 * notation `188 F@10:05#T1`. Made from the stored value; free text is shown as typed. Empty where the field is blank.
 */
export function valueItems(field: Field<unknown> | undefined, { typed, body }: StoredFields, name: string): string[] {
  const text = typed[name] ?? '';
  if (text === '') return [];
  const value = (body as Readonly<Record<string, unknown>>)[name];
  switch (field?.read as unknown) {
    case fillReadings:
      return Array.isArray(value) ? (value as readonly FillReading[]).map(formatFillReading) : splitList(text);
    case portions:
      return Array.isArray(value) ? (value as readonly Portion[]).map(formatPortion) : splitList(text);
    case temperature:
      return [value === undefined ? text : formatTemperature(value as Temperature)];
    case density:
      return [value === undefined ? text : formatDensity(value as DensityReading)];
    default:
      if (field?.choices) return (field.list ? splitList(text) : [text]).map(plainChoice);
      return field?.list ? splitList(text) : [withPlainTimes(text)];
  }
}

/** `refractometer-atc` → `refractometer with ATC` */
const plainChoice = (value: string): string =>
  value
    .replaceAll('-', ' ')
    .replace(/ atc$/, ' with ATC')
    .replace(/^(\d+) F$/, '$1 °F');

/** `2026-03-19T10:00-04:00` → `2026-03-19 10:00` */
const withPlainTimes = (typed: string): string =>
  typed.replace(/(\d{4}-\d\d-\d\d)T(\d\d:\d\d)(:\d\d)?([+-]\d\d:\d\d|Z)?/g, '$1 $2');
