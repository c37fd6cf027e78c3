import type { PhotoRow } from '../photos/photo-list.js';
import type { LotState } from '#libs/records/entry.js';
import type { Complaint } from '../parts/complaint-list.js';
import type { Rendered } from '../parts/drawing.js';
import type { FindingView } from '../parts/findings.js';
import type { Stamp } from '../parts/lot-header.js';
import type { HistoryLine } from '../parts/history.js';
import type { Paged } from '../parts/more.js';
import type { WaitingReport } from '../parts/reports-waiting.js';

/** Props of every lot's page, whatever its kind. */
export interface LotProps {
  readonly title: string;
  readonly code: string;
  readonly state: LotState;
  /** The last entry that the page takes into account, and what others wrote after it. */
  readonly seen: number;
  readonly newerEntries?: readonly HistoryLine[];
  readonly stamp: Stamp | undefined;
  /** What to do about a held lot; blank where it isn't held. */
  readonly remedy: string;
  readonly photos: readonly PhotoRow[];
  /** The page that adds one; undefined for people who may not. */
  readonly addPhoto: string | undefined;
  readonly findings: readonly FindingView[];
  readonly complaints: readonly Complaint[];
  /** Customers' reports that no maker has read. */
  readonly reports: readonly WaitingReport[];
  /** What it came from and what became of it. */
  readonly drawing: Rendered;
  readonly history: readonly HistoryLine[];
  readonly olderEntries: Paged<HistoryLine>;
  readonly historyOpen: boolean;
}
