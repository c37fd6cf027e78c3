import type { SuspectInstrument } from '#libs/actions/lots/suspect-lots.js';

/** The checks between which an instrument's readings are suspect. */
export function suspectText({ instrument, period }: SuspectInstrument, when: (ms: number) => string): string {
  const { lastRight, foundWrong, afterMs, untilMs } = period;
  const since =
    lastRight === undefined ? 'no earlier check found it right' : `last found right ${when(afterMs)} (${lastRight})`;
  const until =
    foundWrong === undefined
      ? 'and no check found it wrong: all since then'
      : `found wrong ${when(untilMs)} (${foundWrong})`;
  return `${instrument}: ${since}, ${until}. Every reading in between that names it is suspect.`;
}
