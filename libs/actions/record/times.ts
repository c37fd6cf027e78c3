import { Temporal } from 'temporal-polyfill';
import type { Parsed } from '#libs/syrup/quantities/quantities.js';

/**
 * Parses a moment in ISO 8601: `2026-03-19T14:10`, optionally with seconds or an offset. Without an offset it is in the
 * book's zone. Returns it with its offset, `2026-03-19T14:10:00-04:00`. A local time skipped by the clock change is a
 * fault; one that occurs twice needs its offset. Cached: a file row is read three times, and the calendar library takes
 * a tenth of a millisecond.
 */
export function parseMoment(text: string, zone: string): Parsed<string> {
  const key = `${zone} ${text}`;
  const cached = parsedMoments.get(key);
  if (cached) return cached;
  const parsed = parseMomentUncached(text, zone);
  if (parsedMoments.size >= maxCachedMoments) parsedMoments.clear();
  if (text.length <= maxCachedLength) parsedMoments.set(key, parsed);
  return parsed;
}
const parsedMoments = new Map<string, Parsed<string>>();
const maxCachedMoments = 5000;
const maxCachedLength = 40;

function parseMomentUncached(text: string, zone: string): Parsed<string> {
  const expected = 'a date and time like 2026-03-19T14:10';
  const got = text.trim() === '' ? 'nothing' : `"${text.trim()}"`;
  const parts = /^(\d{4}-\d{2}-\d{2})(?:[T ](\d{1,2}:\d{2})(:\d{2}(?:\.\d+)?)?\s*(Z|[+-]\d{2}:?\d{2})?)?$/i.exec(
    text.trim(),
  );
  if (!parts) return { mismatch: { expected, got } };
  const [, day = '', clock = '00:00', seconds = '', offset] = parts;
  // The calendar library reads a leap second as the second before it.
  if (seconds.startsWith(':6')) return { mismatch: { expected: `${expected}, with seconds from 00 to 59`, got } };
  try {
    const local = Temporal.PlainDateTime.from(`${day}T${clock.padStart(5, '0')}${seconds}`, { overflow: 'reject' });
    if (local.year < 2000 || local.year > 2099)
      return { mismatch: { expected: `${expected}, from 2000 to 2099`, got } };
    if (offset) {
      const wellFormed =
        offset.toUpperCase() === 'Z'
          ? '+00:00'
          : offset.includes(':')
            ? offset
            : `${offset.slice(0, 3)}:${offset.slice(3)}`;
      return { value: withOffset(Temporal.Instant.from(`${local.toString()}${wellFormed}`), wellFormed) };
    }
    return resolveInZone(local, zone, expected, got);
  } catch {
    return { mismatch: { expected: `${expected} that is in the calendar`, got } };
  }
}

/** Parses a day, `2026-03-19`. */
export function parseDay(text: string): Parsed<string> {
  const expected = 'a date like 2026-03-19';
  const got = text.trim() === '' ? 'nothing' : `"${text.trim()}"`;
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text.trim())) return { mismatch: { expected, got } };
  try {
    return { value: Temporal.PlainDate.from(text.trim(), { overflow: 'reject' }).toString() };
  } catch {
    return { mismatch: { expected: `${expected} that is in the calendar`, got } };
  }
}

/**
 * A moment in the zone, as stored in a new entry. To the second, and cached for that second: a page needs it a dozen
 * times, and the calendar library takes a tenth of a millisecond.
 */
export function momentIn(zone: string, moment: Date): string {
  const key = `${Math.floor(moment.getTime() / 1000)} ${zone}`;
  const cached = formattedMoments.get(key);
  if (cached !== undefined) return cached;
  const zoned = Temporal.Instant.fromEpochMilliseconds(moment.getTime()).toZonedDateTimeISO(zone);
  const text = `${zoned.toPlainDateTime().toString({ smallestUnit: 'second' })}${zoned.offset}`;
  if (formattedMoments.size >= maxFormattedMoments) formattedMoments.clear();
  formattedMoments.set(key, text);
  return text;
}
const formattedMoments = new Map<string, string>();
const maxFormattedMoments = 200;

/** Year and day of the year of a moment, by its local date. */
export function yearAndDayOf(moment: string): { year: number; dayOfYear: number } {
  const date = Temporal.PlainDate.from(moment.slice(0, 10));
  return { year: date.year, dayOfYear: date.dayOfYear };
}

/** Whether this is an IANA time zone name. */
export function isZone(zone: string): boolean {
  try {
    Temporal.Now.instant().toZonedDateTimeISO(zone);
    return true;
  } catch {
    return false;
  }
}

/**
 * A clock time such as `14:10` near another moment: the same day, or the next where the evening ran past midnight.
 * Undefined where that day has no such time in this zone.
 */
export function nearestMoment(clock: string, moment: string, zone: string): string | undefined {
  const base = Temporal.PlainDate.from(moment.slice(0, 10));
  const candidates = [-1, 0, 1].flatMap((days) => {
    const parsed = parseMoment(`${base.add({ days }).toString()}T${clock}`, zone);
    return parsed.value === undefined ? [] : [parsed.value];
  });
  const distance = (each: string): number => Math.abs(Date.parse(each) - Date.parse(moment));
  return candidates.sort((a, b) => distance(a) - distance(b))[0];
}

function resolveInZone(local: Temporal.PlainDateTime, zone: string, expected: string, got: string): Parsed<string> {
  const only = unambiguousMoment(local, zone);
  if (only) return { value: `${local.toString({ smallestUnit: 'second' })}${only.offset}` };
  const earlier = local.toZonedDateTime(zone, { disambiguation: 'earlier' });
  const later = local.toZonedDateTime(zone, { disambiguation: 'later' });
  if (!earlier.toPlainDateTime().equals(local))
    return {
      mismatch: { expected: `${expected} that exists: clocks in ${zone} went forward that night and skipped it`, got },
    };
  return {
    mismatch: {
      expected: `${expected} with its offset, ${local.toString()}${earlier.offset} or ${local.toString()}${later.offset}: clocks in ${zone} went back that night, so that time came twice`,
      got,
    },
  };
}

/** The moment of a local time, but for the two nights on which the clocks change. */
function unambiguousMoment(local: Temporal.PlainDateTime, zone: string): Temporal.ZonedDateTime | undefined {
  try {
    return local.toZonedDateTime(zone, { disambiguation: 'reject' });
  } catch (fault) {
    if (fault instanceof RangeError) return undefined;
    throw fault;
  }
}

const withOffset = (instant: Temporal.Instant, offset: string): string =>
  `${instant.toZonedDateTimeISO(offset).toPlainDateTime().toString({ smallestUnit: 'second' })}${offset}`;
