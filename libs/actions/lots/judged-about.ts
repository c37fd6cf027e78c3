import { recordsOfKindsAbout } from '#libs/store/connection/batch-queries.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * The records about a boil or a pack that its verdict and those of the packs below it are made from, by kind. All of
 * them are read at once: whichever part of the judging asks next finds them kept.
 */
export const judgedAbout = (reader: SugarhouseReader, lot: string) =>
  recordsOfKindsAbout(reader, lot, ['action', 'answer', 'complaint', 'draw', 'line']);
