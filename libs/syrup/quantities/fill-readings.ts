import { type Mismatch, type Parsed, type Temperature, parseTemperature } from './quantities.js';
import { normalizeClock } from './fill-clock.js';
import { ordinal, formatTemperature } from './format-quantities.js';

/** A temperature taken in the jar when it was capped. */
export interface FillReading {
  readonly typed: string;
  readonly temperature: Temperature;
  /** As typed after @: `14:10`, or a date and time `2026-03-19T14:10`. */
  readonly clock?: string;
  /** The thermometer's own id, as written on it: `T1`. */
  readonly thermometer?: string;
  /** The jars it covers, as typed: `jars 9-16`, `tray 2`. */
  readonly jars?: string;
  /** Its jars were poured back and filled again: it cancels the equal reading before it. */
  readonly pouredBack?: true;
}

const expected = 'a fill temperature like 184 F, 184 F@14:10 or 184 F@14:10#T1';

/**
 * The hottest temperature accepted for a jar. Syrup boils at about 219 °F (calculated, thickening.ts); six degrees more
 * are our own margin, since at 225 °F it is thicker than any syrup sold.
 */
export const hottestInJar: Readonly<Record<Temperature['unit'], number>> = { F: 225, C: 107.2 };

/** Why a temperature can't be that of syrup in a jar, with the likely mistake; undefined where it can. */
export function whyImpossibleInJar(temperature: Temperature): string | undefined {
  const { unit, degrees } = temperature;
  if (degrees <= hottestInJar[unit]) return undefined;
  const limit = `a temperature in the jar of at most ${hottestInJar.F} °F or ${hottestInJar.C} °C, which is past boiling`;
  return unit === 'C' && degrees <= hottestInJar.F
    ? `${limit}: did you mean ${formatTemperature({ ...temperature, unit: 'F' })}?`
    : `${limit}: is a digit wrong?`;
}

/**
 * Parses `184 F@14:10#T1 jars 9-16`: the temperature, then time, thermometer and jars, where known. A final `poured
 * back` means that these jars were poured back and filled again.
 */
export function parseFillReading(text: string): Parsed<FillReading> {
  const poured = /^(.*\S)\s+poured[ -]back$/iu.exec(text.trim());
  if (!poured) return parseReading(text);
  const reading = parseReading(poured[1] ?? '');
  return reading.mismatch ? reading : { value: { ...reading.value, typed: text.trim(), pouredBack: true } };
}

/** The entry that cancels a reading: the same reading, marked as poured back. */
export const withPouredBack = (fill: FillReading): FillReading => ({
  ...fill,
  typed: `${fill.typed} poured back`,
  pouredBack: true,
});

function parseReading(text: string): Parsed<FillReading> {
  const typed = text.trim();
  const got = typed === '' ? 'nothing' : `"${typed}"`;
  const parts = partsOf(typed);
  if (!parts) return { mismatch: { expected, got } };
  const temperature = parseTemperature(parts.temperature);
  if (temperature.mismatch) return { mismatch: { expected, got } };
  const clock = parts.clock === undefined ? undefined : normalizeClock(parts.clock);
  if (parts.clock !== undefined && clock === undefined)
    return { mismatch: { expected: `${expected}, with a time like 14:10 or 2026-03-19T14:10 after the @`, got } };
  return {
    value: {
      typed,
      temperature: temperature.value,
      ...(clock === undefined ? {} : { clock }),
      ...(parts.thermometer === undefined ? {} : { thermometer: parts.thermometer }),
      ...(parts.jars === undefined ? {} : { jars: parts.jars }),
    },
  };
}

/** Splits a reading into its parts; undefined where some text belongs to none. In linear time. */
function partsOf(typed: string) {
  if (/[\r\n\u2028\u2029]/u.test(typed)) return undefined;
  const temperature = typed.slice(0, /[@#]|\s(?:jars?|trays?|cases?|pots?|bocal|bocaux)\b/iu.exec(typed)?.index);
  let rest = typed.slice(temperature.length);
  /** Takes the text after this separator, if it comes next; undefined otherwise. */
  const takeAfter = (separator: string, text: RegExp): string | undefined => {
    const marked = rest.trimStart();
    if (!marked.startsWith(separator)) return undefined;
    const from = marked.slice(1).trimStart();
    const found = text.exec(from)?.[0] ?? '';
    rest = from.slice(found.length);
    return found;
  };
  const clock = takeAfter('@', /^[^\s#]+/u);
  const thermometer = takeAfter('#', /^[^\s@#;|]+/u);
  const jars = /^\s/u.test(rest) ? rest.trim() : undefined;
  const isOdd = jars === undefined ? rest !== '' : !/^(?:jars?|trays?|cases?|pots?|bocal|bocaux)\b/iu.test(jars);
  return temperature === '' || clock === '' || thermometer === '' || isOdd
    ? undefined
    : { temperature, clock, thermometer, jars };
}

/**
 * Parses the readings of one pack: a list, or text separated by `;` (or `|`, in files where `;` separates the cells).
 * Empty items are skipped. A mismatch says which readings could not be parsed or are impossible. Readings already in
 * the record (`recorded`) are accepted unchanged, so that an old record can still be corrected.
 */
export function parseFillReadings(
  textOrList: string | readonly string[],
  recorded: string | readonly string[] = [],
): Parsed<readonly FillReading[]> {
  const texts = readingTexts(textOrList);
  const known = new Set(readingTexts(recorded));
  const readings: FillReading[] = [];
  const faults: (Mismatch & { place: number })[] = [];
  texts.forEach((text, index) => {
    const parsed = parseFillReading(text);
    const cannotBe = parsed.value && !known.has(text) ? whyImpossibleInJar(parsed.value.temperature) : undefined;
    if (parsed.mismatch) faults.push({ ...parsed.mismatch, place: index + 1 });
    else if (cannotBe !== undefined) faults.push({ expected: cannotBe, got: `"${text}"`, place: index + 1 });
    else readings.push(parsed.value);
  });
  const first = faults[0];
  if (!first) return { value: readings };
  const named = faults.slice(0, mostNamed).map((fault) => `${fault.got} as the ${ordinal(fault.place)} reading`);
  const got = [...named, ...(faults.length > mostNamed ? [`and ${faults.length - mostNamed} more`] : [])].join(', ');
  return { mismatch: { expected: first.expected, got } };
}

const mostNamed = 20;
const readingTexts = (textOrList: string | readonly string[]): string[] =>
  (typeof textOrList === 'string' ? textOrList.split(/[;|]/u) : textOrList)
    .map((text) => text.trim())
    .filter((text) => text !== '');
