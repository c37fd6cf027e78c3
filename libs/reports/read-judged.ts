import type { ActionBody, PackBody } from '#libs/records/bodies.js';
import type { FillReading } from '#libs/syrup/fill-readings.js';
import { coldestInJar } from '#libs/syrup/judge-reading.js';
import type { Verdict } from '#libs/syrup/verdict.js';
import { packReadings } from './read-readings.js';
import type { DensityJudged, FillStanding, Reading } from './season-lot.js';

/**
 * The fill readings of a pack and of its corrective actions, and which of them a later one replaced. An action that
 * read again replaces only readings that were too cold, or of jars it names: the other jars stand as they were capped,
 * so their readings stand too.
 */
export function fillsStanding(
  pack: PackBody,
  actions: readonly ActionBody[],
  inDoubt: ReadonlySet<string>,
): FillStanding[] {
  let standing = takenFrom(pack, pack.packedAt, inDoubt).map(({ reading, fill }) => ({
    reading,
    fill,
    again: false,
    replaced: pouredBack(fill),
  }));
  for (const action of actions) {
    const again = takenFrom(action, action.at, inDoubt);
    if (again.length === 0) continue;
    standing = [
      ...standing.map((each) => ({ ...each, replaced: each.replaced || isCold(each.fill) })),
      ...again.map(({ reading, fill }) => ({ reading, fill, again: true, replaced: pouredBack(fill) })),
    ];
  }
  return standing.map(({ reading, again, replaced }) => ({ reading, again, replaced }));
}

/** Newer books mark a reading whose jar was poured back. */
const pouredBack = (fill: FillReading): boolean => (fill as { pouredBack?: boolean }).pouredBack === true;

const isCold = ({ temperature }: FillReading): boolean => temperature.degrees < coldestInJar[temperature.unit];

function takenFrom(
  body: Parameters<typeof packReadings>[0],
  at: string,
  inDoubt: ReadonlySet<string>,
): { readonly reading: Reading; readonly fill: FillReading }[] {
  const readings = packReadings(body, at, inDoubt).filter((reading) => reading.kind === 'fill');
  return body.fillTemps.flatMap((fill, index) => {
    const reading = readings[index];
    return reading ? [{ reading, fill }] : [];
  });
}

/** The coldest that stands. Where nothing was read again it is the one judged, coldest after its thermometer's correction. */
export function lowestStanding(fills: readonly FillStanding[], verdict: Verdict | undefined): Reading | null {
  const standing = fills.filter((fill) => !fill.replaced).map((fill) => fill.reading);
  const judged = verdict?.lowestFill;
  if (judged && !fills.some((fill) => fill.again || fill.replaced)) {
    const same = standing.find((each) => each.typed === judged.typed && each.celsius === judged.celsius);
    if (same) return same;
  }
  return [...standing].sort((a, b) => (a.celsius ?? 0) - (b.celsius ?? 0))[0] ?? null;
}

/**
 * The density reading that the verdict came from: that of the last corrective action which read it, else the pack's. A
 * boil-up after it leaves none, for water went off.
 */
export function densityJudged(pack: PackBody, actions: readonly ActionBody[]): DensityJudged | null {
  let judged = densityIn(pack, false);
  for (const action of actions) {
    const again = densityIn(action, true);
    if (again) judged = again;
    else if ((action.hotPackTemp?.celsius ?? 0) >= boilsFromCelsius) judged = null;
  }
  return judged;
}

/** The same as where lots are judged: syrup at 210 °F or more is boiling or near it. */
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
