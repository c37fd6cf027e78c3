import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { type DeskTable, DeskTableView } from '../parts/desk-table.js';
import { LotsByYear, type LotRow } from '../parts/lots-by-year.js';
import { More, type MoreProps } from '../parts/more.js';

export interface PackListPageProps {
  readonly title: string;
  readonly here: string;
  /** The same as a table, for a wide screen. */
  readonly desk: DeskTable;
  readonly rows: readonly LotRow[];
  readonly more: MoreProps;
}

export const PackListPage = ({ title, here, desk, rows, more, page }: PackListPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>Packs</h1>
    {page.may('helper') && (
      <a class="deed" href="/packs/begin">
        Start a pack
      </a>
    )}
    <p>
      {page.mayWrite('pack') && (
        <>
          <a href="/packs/finished">A pack from paper</a> &ensp;{' '}
        </>
      )}
      <a href="/dispatches">Sent out</a>
    </p>
    <DeskTableView desk={desk} />
    <div class="listed">
      <span id="from" />
      <LotsByYear rows={rows} />
      {rows.length === 0 && <p class="now">No pack yet.</p>}
    </div>
    <More {...more} />
  </Layout>
);
