/** Totals over the seeds: a simulation without crashes or refusals would show nothing. */
export interface Tally {
  operations: number;
  refused: number;
  crashes: number;
  lostInCrash: number;
  fullDisks: number;
  clockJumps: number;
}
export const emptyTally = (): Tally => ({
  operations: 0,
  refused: 0,
  crashes: 0,
  lostInCrash: 0,
  fullDisks: 0,
  clockJumps: 0,
});
