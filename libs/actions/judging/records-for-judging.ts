import { recordsOfKindsAbout } from '#libs/store/connection/batch-queries.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * The records about a boil or pack that its verdict and those of its packs depend on, by kind. All are read at once and
 * cached for the other parts of the judging.
 */
export const recordsForJudging = (reader: SugarhouseReader, lot: string) =>
  recordsOfKindsAbout(reader, lot, judgedKinds);

export const judgedKinds = ['action', 'answer', 'complaint', 'draw', 'labels', 'line'] as const;
