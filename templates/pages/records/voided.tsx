import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { History, type HistoryLine } from '../parts/history.js';

export interface VoidedPageProps {
  readonly title: string;
  readonly here: string;
  readonly lot: string | undefined;
  readonly sentence: string;
  readonly why: string | undefined;
  readonly history: readonly HistoryLine[];
}

/** A voided record, with its history. */
export const VoidedPage = ({ title, here, lot, sentence, why, history, page }: VoidedPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    {lot && (
      <p class="crumb">
        <a href={`/lots/${encodeURIComponent(lot)}`}>← {lot}</a>
      </p>
    )}
    <div class="title">
      <h1>{title}</h1>
      <span class="stamp voided">VOIDED</span>
    </div>
    <p class="now">{sentence}</p>
    {why && <p>Reason: {why}</p>}
    <p class="soft">
      Lists, drawings and totals leave it out. It stays in the history, and its code is not used again.
    </p>
    <h2>History</h2>
    <History page={page} history={history} />
  </Layout>
);
