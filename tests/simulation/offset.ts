import type { WrittenCheck } from './hidden-season.js';

/** °F to add to a reading: on the line between the two points checked. */
export function offsetAt(checks: readonly WrittenCheck[], id: string, moment: string, shown: number): number {
  const points = (['ice', 'boiling-water'] as const).flatMap((how) => {
    const own = checks
      .filter((check) => check.instrument === id && check.how === how)
      .map((check) => ({
        at: check.at,
        reads: Number.parseFloat(check.reads),
        adds: Number.parseFloat(check.should) - Number.parseFloat(check.reads),
      }))
      .sort((a, b) => (a.at < b.at ? -1 : 1));
    const around = [own.findLast(({ at }) => at <= moment), own.find(({ at }) => at > moment)].flatMap(
      (each) => each ?? [],
    );
    return around.sort((a, b) => a.adds - b.adds).slice(0, 1);
  });
  const [ice, boiling] = points;
  if (!ice) return 0;
  if (!boiling) return ice.adds;
  const part = (shown - ice.reads) / (boiling.reads - ice.reads);
  return part >= 1 ? boiling.adds : ice.adds + part * (boiling.adds - ice.adds);
}

/**
 * Whether the form calls a reading too cold when it is typed, by the checks until then: a reading without a thermometer
 * is taken as that of the one in use that reads highest.
 */
export function isColdByNow(
  checks: readonly WrittenCheck[],
  instruments: readonly string[],
  reading: { readonly id: string | undefined; readonly moment: string; readonly shown: number },
): boolean {
  const ids = reading.id === undefined ? instruments : [reading.id];
  const offsets = ids.map((id) => offsetAt(checks, id, reading.moment, reading.shown));
  return Math.round((reading.shown + Math.min(0, ...offsets)) * 100) / 100 < 180;
}
