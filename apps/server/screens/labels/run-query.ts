import type { PrintedLabels } from '#libs/actions/labels/print-labels.js';

/** The query of a printed run's PDF: stock, jars and first place on the sheet. */
export const runQuery = ({ run, from, to }: Pick<PrintedLabels, 'run' | 'from' | 'to'>): Record<string, string> => ({
  stock: run.stock.name,
  from: String(from),
  to: String(to),
  skip: String(run.skip ?? 0),
  right: String(run.nudge?.rightMm ?? 0),
  down: String(run.nudge?.downMm ?? 0),
});
