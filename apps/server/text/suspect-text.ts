import type { SuspectInstrument } from '#libs/actions/facts/suspect-lots.js';

/** The checks between which an instrument's readings are suspect. */
export function suspectText({ instrument, period }: SuspectInstrument, when: (ms: number) => string): string {
  const { lastPassedCheck, failedCheck, afterMs, untilMs } = period;
  const since =
    lastPassedCheck === undefined
      ? 'no earlier check passed'
      : `last passed a check ${when(afterMs)} (${lastPassedCheck})`;
  const until =
    failedCheck === undefined ? 'and no failed check since' : `failed a check ${when(untilMs)} (${failedCheck})`;
  return `${instrument}: ${since}, ${until}. Every reading in that time that names it is suspect.`;
}
