import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { type DeskTable, DeskTableView } from '../parts/desk-table.js';
import { LotsByYear, type LotRow } from '../parts/lots-by-year.js';
import { More, type MoreProps } from '../parts/more.js';

export interface BoilListPageProps {
  readonly title: string;
  readonly here: string;
  /** The same as a table, for a wide screen. */
  readonly desk: DeskTable;
  readonly rows: readonly LotRow[];
  readonly more: MoreProps;
}

export const BoilListPage = ({ title, here, desk, rows, more, page }: BoilListPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>Boils</h1>
    {page.may('helper') && (
      <a class="deed" href="/boils/begin">
        Start a boil
      </a>
    )}
    <p>
      {page.mayWrite('boil') && (
        <>
          <a href="/boils/finished">A boil from paper</a> &ensp;{' '}
        </>
      )}
      <a href="/sap">Sap</a>
    </p>
    <DeskTableView desk={desk} />
    <div class="listed">
      <span id="from" />
      <LotsByYear rows={rows} />
      {rows.length === 0 && <p class="now">No boil yet.</p>}
    </div>
    <More {...more} />
  </Layout>
);
