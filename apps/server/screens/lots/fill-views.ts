import type { PackBody } from '#libs/records/kinds/pack.js';
import { type JudgedReading, judgeReadings } from '#libs/syrup/rules/judge-reading.js';
import type { FillView } from '#pages/lots/fill-form-view.js';
import { whyUnreliable } from '#libs/syrup/instruments/suspect-reading.js';
import { listedReadings } from '#libs/syrup/jars/poured-back.js';
import { withReadingTimes } from '#libs/syrup/quantities/reading-time.js';
import { formatTemperature } from '#libs/syrup/quantities/format-quantities.js';
import type { Thermometer } from '#libs/syrup/instruments/thermometers.js';

/** Each reading against the limit in its own unit; the rules judge the lot as a whole. */
export function fillViews(pack: PackBody, thermometers: readonly Thermometer[]): FillView[] {
  const listed = listedReadings(withReadingTimes(pack.fillTemps, pack.packedAt));
  const judged = judgeReadings(
    listed.map(({ fill }) => fill),
    thermometers,
  );
  return judged.map((each, index) => {
    const pouredBack = listed[index]?.pouredBackAt !== undefined;
    const { temperature, clock, thermometer, jars, typed } = each.fill;
    return {
      reading: formatTemperature(temperature),
      low: !pouredBack && isLow(each),
      whySuspect: pouredBack ? undefined : whyUnreliable(each)?.text,
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
  const last = judgeReadings(withReadingTimes(validReadings(pack), pack.packedAt), thermometers).at(-1);
  return last !== undefined && (isLow(last) || whyUnreliable(last) !== undefined);
}

const isLow = ({ outcome }: JudgedReading): boolean => outcome !== 'hot enough';
