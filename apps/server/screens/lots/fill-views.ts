import type { PackBody } from '#libs/records/kinds/pack.js';
import { type JudgedReading, judgeReadings } from '#libs/syrup/rules/judge-reading.js';
import type { FillView } from '#pages/lots/fill-pad.js';
import { unreliable } from '#libs/syrup/instruments/suspect-reading.js';
import { listedReadings } from '#libs/syrup/jars/poured-back.js';
import { withTimes } from '#libs/syrup/quantities/reading-time.js';
import { shown } from '#libs/syrup/quantities/decimal-text.js';
import type { Thermometer } from '#libs/syrup/instruments/thermometers.js';

/** Each reading against the limit in its own unit; the rules judge the lot as a whole. */
export function fillViews(pack: PackBody, thermometers: readonly Thermometer[]): FillView[] {
  const listed = listedReadings(withTimes(pack.fillTemps, pack.packedAt));
  const judged = judgeReadings(
    listed.map(({ fill }) => fill),
    thermometers,
  );
  return judged.map((each, index) => {
    const pouredBack = listed[index]?.pouredBackAt !== undefined;
    const { temperature, clock, thermometer, jars, typed } = each.fill;
    return {
      reading: shown(temperature),
      low: !pouredBack && isLow(each),
      whySuspect: pouredBack ? undefined : unreliable(each)?.text,
      pouredBack,
      beside: [clock?.slice(-5), thermometer, jars].filter(Boolean).join(' '),
      typed,
    };
  });
}

/** The readings that still count for jars, oldest first. */
export const validReadings = (pack: PackBody) =>
  listedReadings(pack.fillTemps).flatMap(({ fill, pouredBackAt }) => (pouredBackAt === undefined ? [fill] : []));

/** Whether the newest valid reading was too cold, or counts for nothing: the next one then covers only its own jar. */
export function lastReadingWasLow(pack: PackBody, thermometers: readonly Thermometer[]): boolean {
  const last = judgeReadings(withTimes(validReadings(pack), pack.packedAt), thermometers).at(-1);
  return last !== undefined && (isLow(last) || unreliable(last) !== undefined);
}

const isLow = ({ outcome }: JudgedReading): boolean => outcome !== 'hot enough';
