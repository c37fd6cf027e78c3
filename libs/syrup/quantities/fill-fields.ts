import { whyImpossibleInJar, type FillReading } from './fill-readings.js';
import { normalizeClock } from './fill-clock.js';
import { type Mismatch, type Parsed, parseTemperature } from './quantities.js';

/** The form fields of a fill reading. */
export const fillFields = ['temperature', 'clock', 'thermometer', 'jars'] as const;
export type FillField = (typeof fillFields)[number];
export type FillTexts = Readonly<Record<FillField, string>>;

/** Why one field could not be parsed. */
export interface FieldMismatch extends Mismatch {
  readonly field: FillField;
}

/**
 * Parses a fill reading from its fields; only the temperature is required. Each field is parsed separately, so that a
 * fault names its field and no field can add a second reading. `typed` of the value is the reading as stored in the log:
 * `186 F@10:10#T1 jars 9-16`.
 */
export function parseFillFields(
  texts: FillTexts,
):
  | { readonly value: FillReading; readonly faults?: undefined }
  | { readonly value?: undefined; readonly faults: readonly FieldMismatch[] } {
  const typed = mapTexts(texts, (text) => text.trim());
  const jarsTyped = withJarNoun(typed.jars);
  const temperature = parseInJar(typed.temperature);
  const clock = optional(typed.clock, parseFillClock);
  const thermometer = optional(typed.thermometer, parseThermometerId);
  const jars = optional(jarsTyped, parseReadJars);
  const faults = [
    ...faultAt('temperature', temperature),
    ...faultAt('clock', clock),
    ...faultAt('thermometer', thermometer),
    ...faultAt('jars', jars),
  ];
  if (faults.length > 0 || temperature.mismatch) return { faults };
  return {
    value: {
      typed: formatFillTexts({ ...typed, jars: jarsTyped }),
      temperature: temperature.value,
      ...(clock.value === undefined ? {} : { clock: clock.value }),
      ...(thermometer.value === undefined ? {} : { thermometer: thermometer.value }),
      ...(jars.value === undefined ? {} : { jars: jars.value }),
    },
  };
}

/** `186 F@10:10#T1 jars 9-16`, the notation of files and the log; `parseFillReading` parses it. */
const formatFillTexts = ({ temperature, clock, thermometer, jars }: FillTexts): string =>
  temperature + (clock && `@${clock}`) + (thermometer && `#${thermometer}`) + (jars && ` ${jars}`);

/** Parses a temperature that syrup in a jar can have; °F or °C is required. */
function parseInJar(text: string): Parsed<FillReading['temperature']> {
  const parsed = parseTemperature(text);
  if (parsed.mismatch) return parsed;
  const cannotBe = whyImpossibleInJar(parsed.value);
  return cannotBe === undefined ? parsed : { mismatch: { expected: cannotBe, got: `"${text}"` } };
}

/** Parses `14:10`, or a date and time `2026-03-19T14:10` where it was on another day than the pack. */
function parseFillClock(text: string): Parsed<string> {
  const value = normalizeClock(text);
  return value === undefined ? { mismatch: { expected: 'a time like 14:10', got: `"${text}"` } } : { value };
}

/** Parses a thermometer's id. It may not contain spaces or the separators of readings. */
function parseThermometerId(text: string): Parsed<string> {
  return /^[^\s@#;|]+$/u.test(text)
    ? { value: text }
    : { mismatch: { expected: 'the id on the thermometer like T1, without spaces', got: `"${text}"` } };
}

/** Parses `jar 12`, `jars 9-16`, `tray 2`. "Poured back" is a separate statement, not a jar. */
function parseReadJars(text: string): Parsed<string> {
  return /^(?:jars?|trays?|cases?|pots?|bocal|bocaux)\b[^;|@#\r\n\u2028\u2029]*$/iu.test(text) &&
    !/poured[ -]back$/iu.test(text)
    ? { value: text }
    : { mismatch: { expected: 'a jar like 12, jars like 9-16 or tray 2', got: `"${text}"` } };
}

/** `12` becomes jar 12 and `9-16` jars 9-16; any other text stays. */
const withJarNoun = (jars: string): string =>
  /^\d+$/.test(jars) ? `jar ${jars}` : /^[\d\s,–-]+$/u.test(jars) ? `jars ${jars}` : jars;

const blank = { value: undefined } as const;
const optional = <T>(
  text: string,
  parse: (text: string) => Parsed<T>,
): Parsed<T> | (typeof blank & { mismatch?: undefined }) => (text === '' ? blank : parse(text));

const faultAt = (field: FillField, { mismatch }: { readonly mismatch?: Mismatch | undefined }): FieldMismatch[] =>
  mismatch ? [{ field, ...mismatch }] : [];

const mapTexts = (texts: FillTexts, change: (text: string) => string): FillTexts => ({
  temperature: change(texts.temperature),
  clock: change(texts.clock),
  thermometer: change(texts.thermometer),
  jars: change(texts.jars),
});
