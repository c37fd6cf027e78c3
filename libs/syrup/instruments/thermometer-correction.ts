import { validChecks, type InstrumentChecked, offsetCelsius, scalePoint, wasAdjusted } from './instrument-checks.js';

/** A point of a thermometer's scale: its reading there, and the °C to add to it. */
interface Point {
  readonly shownC: number;
  readonly offsetC: number;
}

/**
 * °C to add to a reading, at the reading's own temperature: interpolated between checked points, and beyond them the
 * offset of the nearest. At each point the last check before the reading and the first after it count; where these
 * differ, the one that lowers the reading more; but a check followed by an adjustment doesn't count where a later one
 * shows how the instrument reads since. Undefined where no check gives both temperatures.
 */
export function correctionCelsiusAt(
  checks: readonly InstrumentChecked[],
  { atMs, celsius }: { readonly atMs: number; readonly celsius: number },
): number | undefined {
  const points = [...groupByPoint(validChecks(checks)).values()].flatMap((ofPoint) => {
    const before = ofPoint.findLast((each) => each.atMs <= atMs);
    const after = ofPoint.find((each) => each.atMs > atMs);
    const around = before && after && wasAdjusted(before) ? [after] : [before, after];
    return lowestOffset(around.flatMap((each) => (each ? [each] : [])).flatMap(toPoint));
  });
  return interpolate(points, celsius);
}

/** The same, but with the given check alone for its point of the scale. */
export function correctionCelsiusBy(
  check: InstrumentChecked,
  checks: readonly InstrumentChecked[],
  at: { readonly atMs: number; readonly celsius: number },
): number | undefined {
  const others = checks.filter((each) => scalePoint(each) !== scalePoint(check));
  return correctionCelsiusAt([...others, check], at);
}

function groupByPoint(checks: readonly InstrumentChecked[]): Map<string, InstrumentChecked[]> {
  const points = new Map<string, InstrumentChecked[]>();
  for (const check of checks) {
    if (offsetCelsius(check) === undefined) continue;
    points.set(scalePoint(check), [...(points.get(scalePoint(check)) ?? []), check]);
  }
  return points;
}

const toPoint = (check: InstrumentChecked): Point[] => {
  const offsetC = offsetCelsius(check);
  return offsetC === undefined || !check.reads ? [] : [{ shownC: check.reads.celsius, offsetC }];
};

const lowestOffset = (points: readonly Point[]): Point[] =>
  [...points].sort((a, b) => a.offsetC - b.offsetC).slice(0, 1);

function interpolate(points: readonly Point[], celsius: number): number | undefined {
  const sorted = [...points].sort((a, b) => a.shownC - b.shownC);
  const below = sorted.findLast((each) => each.shownC <= celsius);
  const above = sorted.find((each) => each.shownC > celsius);
  if (!below || !above) return (below ?? above)?.offsetC;
  const part = (celsius - below.shownC) / (above.shownC - below.shownC);
  return below.offsetC + part * (above.offsetC - below.offsetC);
}
