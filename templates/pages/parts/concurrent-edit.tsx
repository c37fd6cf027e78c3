import type { PageProps } from '../page-context.js';
import { History, type HistoryLine } from './history.js';

export interface ConcurrentEditProps {
  readonly newerEntries: readonly HistoryLine[] | undefined;
}

/** What others wrote while the form was being filled in. */
export const ConcurrentEdit = ({ newerEntries: entries, page }: ConcurrentEditProps & PageProps) =>
  entries && entries.length > 0 ? (
    <section class="meanwhile" aria-label="Saved in the meantime">
      <History page={page} history={entries} bare />
    </section>
  ) : null;
