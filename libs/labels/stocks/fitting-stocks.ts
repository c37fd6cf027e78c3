import type { LabelJob } from '../layout/label-layout.js';
import { layoutLabel } from '../layout/layout-label.js';
import type { LabelProblem, Unfit } from '../content/label.js';
import { loadStocks, type Stock } from './stocks.js';

/** The stocks that hold this content in this design. */
export const fittingStocks = (job: LabelJob, stocks: readonly Stock[] = loadStocks()): Stock[] =>
  stocks.filter((stock) => 'layout' in layoutLabel({ ...job, stock }));

/** A refusal that names the stocks which would fit. */
export const doesNotFit = (job: LabelJob, unfit: readonly Unfit[], stocks?: readonly Stock[]): LabelProblem => ({
  kind: 'does-not-fit',
  stock: job.stock.name,
  unfit,
  fitsOn: fittingStocks(job, stocks).map(({ name }) => name),
});
