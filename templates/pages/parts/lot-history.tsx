import type { PageProps } from '../page-context.js';
import { History, type HistoryLine } from './history.js';
import { More, type Paged } from './more.js';
import { type PhotoRow, Photos } from '../photos/photo-list.js';
import { Prerendered, type Rendered } from './drawing.js';

export interface LotHistoryProps {
  /** What the lot came from and what became of it. */
  readonly drawing: Rendered;
  readonly historyOpen: boolean;
  readonly olderEntries: Paged<unknown>;
  readonly history: readonly HistoryLine[];
  readonly photos: readonly PhotoRow[];
  readonly addPhoto: string | undefined;
}

/** The drawing and the history at the foot of a lot’s page. */
export const LotHistory = ({
  drawing,
  historyOpen,
  olderEntries,
  history,
  page,
  photos,
  addPhoto,
}: LotHistoryProps & PageProps) => (
  <>
    <Photos photos={photos} addPhoto={addPhoto} />
    <div class="lot-records">
      <details class="more at-desktop">
        <summary>
          <h2>Drawing</h2>
        </summary>
        <Prerendered part={drawing} page={page} />
      </details>
      <details class="more at-desktop" open={historyOpen}>
        <summary>
          <h2>
            History, {olderEntries.count} {olderEntries.count === 1 ? 'entry' : 'entries'}
          </h2>
        </summary>
        <div id="history">
          <History page={page} history={history} />
          <More {...olderEntries} />
        </div>
      </details>
    </div>
  </>
);
