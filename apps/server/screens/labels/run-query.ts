import type { PrintedLabels } from '#libs/actions/labels/print-labels.js';

/** Stock, jars and place on the sheet of a run that was printed, as the address of its PDF carries them. */
export const runQuery = ({ run, from, to }: Pick<PrintedLabels, 'run' | 'from' | 'to'>): Record<string, string> => ({
  stock: run.stock.name,
  from: String(from),
  to: String(to),
  skip: String(run.skip ?? 0),
  right: String(run.nudge?.rightMm ?? 0),
  down: String(run.nudge?.downMm ?? 0),
});
