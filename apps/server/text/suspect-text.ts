import type { SuspectInstrument } from '#libs/actions/lots/suspect-lots.js';

/** The checks between which an instrument's readings are suspect. */
export function suspectText({ instrument, period }: SuspectInstrument, when: (ms: number) => string): string {
  const { lastRight, foundWrong, afterMs, untilMs } = period;
  const since =
    lastRight === undefined ? 'no earlier check passed' : `last passed a check ${when(afterMs)} (${lastRight})`;
  const until =
    foundWrong === undefined ? 'and no failed check since' : `failed a check ${when(untilMs)} (${foundWrong})`;
  return `${instrument}: ${since}, ${until}. Every reading in that time that names it is suspect.`;
}
