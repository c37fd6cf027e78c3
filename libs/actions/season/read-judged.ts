import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import { readingJarSpan } from '#libs/syrup/jars/uncovered-jars.js';
import { coversSpans } from '#libs/syrup/jars/jar-spans.js';
import { coldestInJar } from '#libs/syrup/rules/judge-reading.js';
import { listedReadings } from '#libs/syrup/jars/poured-back.js';
import type { Verdict } from '#libs/syrup/rules/verdict.js';
import { packReadings } from '../facts/read-readings.js';
import type { DensityJudged, FillStatus, Reading } from '#libs/reports/season/lot.js';

/**
 * The fill readings of a pack and its corrective actions, and which of them no longer apply to any jar: those of jars
 * poured back, those of jars that an action names with its cause, and all before an action on the whole pack. Where no
 * fill holds the lot, a later action with new readings counts as having dealt with colder ones; older books lack those
 * fields.
 */
export function fillStatuses(
  pack: PackBody,
  actions: readonly ActionBody[],
  suspectInstruments: ReadonlySet<string>,
  verdict: Verdict | undefined,
): FillStatus[] {
  const isHeldForCold = verdict?.findings.some((finding) => finding.rule.startsWith('fill-temperature')) ?? false;
  let current = fillsWithReadings(pack, pack.packedAt, suspectInstruments).map((each) => ({ ...each, again: false }));
  for (const action of actions) {
    const again = fillsWithReadings(action, action.at, suspectInstruments);
    if (again.length === 0) continue;
    const isReplaced = (fill: FillReading): boolean =>
      clearsJars(action) ? isOfActionJars(fill, action, pack.jars) : !isHeldForCold && isCold(fill);
    current = [
      ...current.map((each) => ({ ...each, replaced: each.replaced || isReplaced(each.fill) })),
      ...again.map((each) => ({ ...each, again: true })),
    ];
  }
  return current.map(({ reading, again, replaced }) => ({ reading, again, replaced }));
}

const clearsJars = ({ jars, cause }: ActionBody): boolean => jars !== undefined && (cause ?? '').trim() !== '';

/** Whether the whole pack, or the jars of this reading, are among those of the action. */
function isOfActionJars(fill: FillReading, { jars }: ActionBody, made: number | undefined): boolean {
  if (!jars) return false;
  if (isWhole(jars, made)) return true;
  const own = readingJarSpan(fill);
  return own !== undefined && coversSpans(jars.spans, [own]);
}

const isWhole = (jars: NonNullable<ActionBody['jars']>, made: number | undefined): boolean =>
  jars.all || (made !== undefined && coversSpans(jars.spans, [{ from: 1, to: made }]));

const isCold = ({ temperature }: FillReading): boolean => temperature.degrees < coldestInJar[temperature.unit];

function fillsWithReadings(
  body: Parameters<typeof packReadings>[0],
  at: string,
  suspectInstruments: ReadonlySet<string>,
): { readonly reading: Reading; readonly fill: FillReading; readonly replaced: boolean }[] {
  const readings = packReadings(body, at, suspectInstruments).filter((reading) => reading.kind === 'fill');
  return listedReadings(body.fillTemps).flatMap(({ fill, index, pouredBackAt }) => {
    const reading = readings[index];
    return reading ? [{ reading, fill, replaced: pouredBackAt !== undefined }] : [];
  });
}

/**
 * The coldest reading that still applies. Where nothing was read again it is the one judged: the coldest after its
 * thermometer's correction.
 */
export function lowestCurrentFill(fills: readonly FillStatus[], verdict: Verdict | undefined): Reading | null {
  const current = fills.filter((fill) => !fill.replaced).map((fill) => fill.reading);
  const judged = verdict?.lowestFill;
  if (judged && !fills.some((fill) => fill.again || fill.replaced)) {
    const same = current.find((each) => each.typed === judged.typed && each.celsius === judged.celsius);
    if (same) return same;
  }
  return [...current].sort((a, b) => (a.celsius ?? 0) - (b.celsius ?? 0))[0] ?? null;
}

/**
 * The density reading behind the verdict: that of the last corrective action on the whole pack that read it, else the
 * pack's own. After a later boil-up there is none, for water evaporated. An action that names no jars, in books older
 * than the field, was on the whole pack where no density holds the lot.
 */
export function densityJudged(
  pack: PackBody,
  actions: readonly ActionBody[],
  verdict: Verdict | undefined,
): DensityJudged | null {
  const isHeldForThin = verdict?.findings.some(({ rule, stop }) => stop && rule.startsWith('density-')) ?? false;
  let judged = densityIn(pack, false);
  for (const action of actions) {
    const onAll = action.jars && clearsJars(action) ? isWhole(action.jars, pack.jars) : !action.jars && !isHeldForThin;
    if (!onAll) continue;
    const again = densityIn(action, true);
    if (again) judged = again;
    else if ((action.hotPackTemp?.celsius ?? 0) >= boilsFromCelsius) judged = null;
  }
  return judged;
}

/** °C (210 °F), as in `pack-after-actions.ts`: at or near boiling. */
const boilsFromCelsius = 98.8;

const densityIn = (
  body: Pick<PackBody, 'densityReading' | 'densityAt' | 'densityBy'>,
  again: boolean,
): DensityJudged | null =>
  body.densityReading
    ? {
        typed: body.densityReading.typed,
        sampleTyped: body.densityAt?.typed ?? null,
        by: body.densityBy ?? null,
        again,
      }
    : null;
