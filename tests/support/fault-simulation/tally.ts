/** Totals over the seeds: a simulation without crashes or refusals would show nothing. */
export interface OperationCounts {
  operations: number;
  refused: number;
  crashes: number;
  lostInCrash: number;
  fullDisks: number;
  clockJumps: number;
}
export const noOperations = (): OperationCounts => ({
  operations: 0,
  refused: 0,
  crashes: 0,
  lostInCrash: 0,
  fullDisks: 0,
  clockJumps: 0,
});
