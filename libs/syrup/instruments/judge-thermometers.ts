import { formatCheckName, checkThatReadLow, formatCheckError } from './suspect-reading.js';
import { coldestInJar, type JudgedReading, formatReadingInFinding } from '../rules/judge-reading.js';
import { findingOf } from '../rules/rules.js';
import type { Thermometer } from './thermometers.js';
import type { Finding } from '../rules/verdict.js';

/** Two degrees Fahrenheit: the permitted error of a thermometer. */
const permittedErrorF = 2;

/** Advisories on the thermometers that read a pack; they hold nothing. */
export function judgeThermometers(readings: readonly JudgedReading[], thermometers: readonly Thermometer[]): Finding[] {
  return [...nearLimitFindings(readings), ...readLowFindings(readings), ...notCheckedFindings(readings, thermometers)];
}

function nearLimitFindings(readings: readonly JudgedReading[]): Finding[] {
  const near = readings.filter(
    ({ by, unit, degrees, outcome }) =>
      outcome === 'hot enough' &&
      by !== undefined &&
      !by.isAssumed &&
      !by.thermometer.checkedThisSeason &&
      degrees - coldestInJar[unit] < (unit === 'F' ? permittedErrorF : permittedErrorF / 1.8),
  );
  const [nearest] = [...near].sort((a, b) => a.celsius - b.celsius);
  if (!nearest?.by) return [];
  return [
    findingOf('thermometer-near-limit', {
      limit: 'a reading within 2 °F above the limit taken with a thermometer that was checked this season',
      found: `${formatReadingInFinding(nearest, readings.length)}, by ${nearest.by.thermometer.id}, which was not checked this season: check it in ice and in boiling water before any of the lot is sent out`,
    }),
  ];
}

function readLowFindings(readings: readonly JudgedReading[]): Finding[] {
  const low = new Map<string, string>();
  for (const reading of readings) {
    const check = checkThatReadLow(reading);
    if (check && reading.by)
      low.set(check.id, `${reading.by.thermometer.id} ${formatCheckError(check)} (${formatCheckName(check)})`);
  }
  if (low.size === 0) return [];
  return [
    findingOf('thermometer-read-low', {
      limit: 'within 2 °F of what it should read',
      found: `${[...low.values()].join('; ')}: the jars were hotter than the reading: adjust the thermometer or use another`,
    }),
  ];
}

/** An advisory that names each thermometer without a check this season, or that none was checked. */
function notCheckedFindings(readings: readonly JudgedReading[], thermometers: readonly Thermometer[]): Finding[] {
  const ids = [
    ...new Set(
      readings.flatMap(({ by }) =>
        by && !by.isAssumed && !by.thermometer.checkedThisSeason ? [by.thermometer.id] : [],
      ),
    ),
  ];
  const isUnnamed = readings.length === 0 || readings.some(({ by }) => !by || by.isAssumed);
  const noneChecked = !thermometers.some((each) => each.checkedThisSeason);
  if (ids.length === 0 && !(isUnnamed && noneChecked)) return [];
  return [
    findingOf('thermometer-not-checked', {
      limit: 'checked this season in ice (32 °F or 0 °C) and in boiling water',
      found: `no check of ${ids.length > 0 ? `thermometer ${ids.join(', ')}` : 'the thermometer'} this season`,
    }),
  ];
}
