import { capital } from '../../text/capital.js';
import type { HouseBody } from '#libs/records/kinds/house.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import { count, optional, temperature, text } from '#libs/actions/record/fields.js';
import { momentIn } from '#libs/actions/record/times.js';
import { type CheckInterval, nextCheck, usualInterval } from '#libs/syrup/quantities/check-interval.js';
import type { Thermometer } from '#libs/syrup/instruments/thermometers.js';
import { readingJarSpan } from '#libs/syrup/jars/uncovered-jars.js';
import type { FormContext, SubmittedForm } from '../../forms/form-view.js';
import type { BoxFault } from '#pages/parts/field-view.js';
import { formatExpected } from '../../forms/field-view.js';
import { clock } from '../../text/times.js';
import { validReadings } from './fill-views.js';
import { thermometerToCheck } from './thermometer-to-check.js';

/** The boxes of the quick form, by the names that its error summary uses. */
export const padFields = {
  temperature: optional(temperature, { label: 'Temperature in the jar', example: '186 F' }),
  thermometer: optional(text, { label: 'Thermometer', example: 'T1' }),
  jars: optional(text, { label: 'Which jars it covers', example: 'jars 9-16' }),
  upTo: optional(count, { label: 'Jars capped so far', example: '24' }),
};

/**
 * The quick form for filling jars: what was typed and not saved, with faults at their boxes; the jars capped; the next
 * reading.
 */
export function fillPadView(
  { house, parseOptions: options, measures }: FormContext,
  pack: PackBody,
  {
    code,
    now,
    thermometers,
  }: { readonly code: string; readonly now: string; readonly thermometers: readonly Thermometer[] },
  { posted, problem }: SubmittedForm,
) {
  const typed = (name: string): string => (typeof posted?.[name] === 'string' ? posted[name] : '');
  return {
    unit: typed('temperature~unit') || measures.temperatures,
    thermometers: thermometers.map(({ id }) => id),
    warning: thermometerToCheck(code, pack, thermometers, now),
    typed: typed('temperature'),
    thermometer: typed('thermometer') || typed('thermometer~pick'),
    jarsFrom: typed('jarsFrom'),
    jarsTo: typed('jarsTo'),
    tray: typed('tray'),
    jars: typed('jars'),
    ago: typed('ago'),
    upTo: typed('upTo'),
    soFar: highestJarRead(pack),
    boxFaults: boxFaults(problem),
    next: nextReading(pack, checkInterval(house), now, options.zone),
  };
}

const boxFaults = (problem: SubmittedForm['problem']): BoxFault[] =>
  (problem && 'faults' in problem ? (problem.faults ?? []) : []).flatMap((fault) => {
    const field = Object.entries(padFields).find(([name]) => name === fault.field)?.[1];
    return field ? [{ box: fault.field, label: field.label, text: capital(formatExpected(fault)) }] : [];
  });

/**
 * The highest number among the jars that readings cover: this many are known to be capped. Jars poured back don't
 * count.
 */
export const highestJarRead = (pack: PackBody): number =>
  Math.max(0, ...validReadings(pack).map((fill) => readingJarSpan(fill)?.to ?? 0));

function checkInterval(house: HouseBody | undefined): CheckInterval & { readonly isUsual: boolean } {
  const own = house?.checkEvery;
  return own ? { ...own, isUsual: false } : { ...usualInterval, isUsual: true };
}

function nextReading(
  pack: PackBody,
  interval: CheckInterval & { readonly isUsual: boolean },
  now: string,
  zone: string,
) {
  const every = `Every ${interval.typed}${interval.isUsual ? ': common practice, no source' : ''}.`;
  const last = lastFillAt(pack);
  if (pack.fillTemps.length === 0)
    return { text: 'Read the first jar when it is capped.', every, isUsual: interval.isUsual };
  const soFar = highestJarRead(pack);
  const { dueMs, atJar } = nextCheck(interval, { atMs: last === undefined ? NaN : Date.parse(last), jars: soFar });
  const due = dueMs === undefined || Number.isNaN(dueMs) ? undefined : momentIn(zone, new Date(dueMs));
  const late = due !== undefined && Date.parse(due) <= Date.parse(now);
  // Without a count of jars there is no jar number to wait for.
  const jar = soFar > 0 ? atJar : undefined;
  const text = late
    ? `Read a jar now: it was due at ${clock(due)}.`
    : `Next check ${[...(due ? [`by ${clock(due)}`] : []), ...(jar ? [`at jar ${jar}`] : [])].join(' or ') || `after ${interval.jars ?? 1} more jars`}.`;
  return { text, every, isUsual: interval.isUsual, late, due, atJar: jar };
}

/** When the last jar was read, for clocks that count from then. */
export function lastFillAt({ packedAt, fillTemps }: PackBody): string | undefined {
  const at = fillTemps.at(-1)?.clock;
  if (at === undefined) return undefined;
  const offset = /(?:Z|[+-]\d\d:\d\d)$/.exec(packedAt)?.[0] ?? '';
  return at.includes('T') ? `${at}${offset}` : `${packedAt.slice(0, 11)}${at}${offset}`;
}
