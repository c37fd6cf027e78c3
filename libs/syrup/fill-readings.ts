import { type Mismatch, type Parsed, type Temperature, parseTemperature } from './quantities.js';
import { ordinal } from './shown.js';

/** A temperature taken in the jar when it was capped. */
export interface FillReading {
  readonly typed: string;
  readonly temperature: Temperature;
  /** As typed after @: `14:10`, or a date and time `2026-03-19T14:10`. */
  readonly clock?: string;
  /** The thermometer's own id, as written on it: `T1`. */
  readonly thermometer?: string;
  /** The jars it stands for, as typed: `jars 9-16`, `tray 2`. */
  readonly jars?: string;
}

const expected = 'a fill temperature like 184 F, 184 F@14:10 or 184 F@14:10#T1';

/** `184 F@14:10#T1 jars 9-16`: the temperature, then when, with which thermometer and for which jars, where known. */
export function parseFillReading(text: string): Parsed<FillReading> {
  const typed = text.trim();
  const got = typed === '' ? 'nothing' : `"${typed}"`;
  const parts = /^([^@#]+?)(?:\s*@\s*([^\s#]+))?(?:\s*#\s*([^\s@#;|]+))?(?:\s+((?:jars?|trays?|cases?)\b.*))?$/iu.exec(
    typed,
  );
  if (!parts) return { mismatch: { expected, got } };
  const temperature = parseTemperature(parts[1] ?? '');
  if (temperature.mismatch) return { mismatch: { expected, got } };
  const clock = parts[2] === undefined ? undefined : clockOf(parts[2]);
  if (parts[2] !== undefined && clock === undefined)
    return { mismatch: { expected: `${expected}, with a time like 14:10 or 2026-03-19T14:10 after the @`, got } };
  return {
    value: {
      typed,
      temperature: temperature.value,
      ...(clock === undefined ? {} : { clock }),
      ...(parts[3] === undefined ? {} : { thermometer: parts[3] }),
      ...(parts[4] === undefined ? {} : { jars: parts[4].trim() }),
    },
  };
}

/**
 * Readings of one pack: a list, or text parted by `;` (or `|`, in files where `;` parts the cells). Nothing between
 * two marks is no reading. A mismatch says which readings were not understood.
 */
export function parseFillReadings(textOrList: string | readonly string[]): Parsed<readonly FillReading[]> {
  const texts = (typeof textOrList === 'string' ? textOrList.split(/[;|]/u) : textOrList)
    .map((text) => text.trim())
    .filter((text) => text !== '');
  const readings: FillReading[] = [];
  const faults: (Mismatch & { place: number })[] = [];
  texts.forEach((text, index) => {
    const parsed = parseFillReading(text);
    if (parsed.mismatch) faults.push({ ...parsed.mismatch, place: index + 1 });
    else readings.push(parsed.value);
  });
  const first = faults[0];
  if (!first) return { value: readings };
  const got = faults.map((fault) => `${fault.got} as the ${ordinal(fault.place)} reading`).join(', ');
  return { mismatch: { expected: first.expected, got } };
}

/** 9:05 → 09:05; a date and time stays as typed. Undefined when it is neither. */
function clockOf(text: string): string | undefined {
  const clock = /^(\d{1,2}):(\d{2})(?::(\d{2}))?$/.exec(text);
  if (clock) return isClock(clock[1], clock[2], clock[3]) ? text.padStart(clock[3] ? 8 : 5, '0') : undefined;
  const moment = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?(?:Z|[+-]\d{2}:\d{2})?$/i.exec(text);
  if (!moment || !isClock(moment[4], moment[5], moment[6])) return undefined;
  const [year, month, day] = [Number(moment[1]), Number(moment[2]), Number(moment[3])];
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const lastDay = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0;
  return day >= 1 && day <= lastDay ? text : undefined;
}

const isClock = (hour: string | undefined, minute: string | undefined, second = '0'): boolean =>
  Number(hour) <= 23 && Number(minute) <= 59 && Number(second) <= 59;
