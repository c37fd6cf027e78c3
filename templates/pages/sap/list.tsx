import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { type DeskTable, DeskTableView } from '../parts/desk-table.js';
import { More, type MoreProps } from '../parts/more.js';

interface SapListRow {
  readonly code: string;
  readonly from: string | undefined;
  readonly amount: string;
  readonly left: string;
  readonly when: string;
}

export interface SapListPageProps {
  readonly title: string;
  readonly here: string;
  /** The same as a table, for a wide screen. */
  readonly desk: DeskTable;
  readonly rows: readonly SapListRow[];
  readonly more: MoreProps;
}

export const SapListPage = ({ title, here, desk, rows, more, page }: SapListPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>Sap</h1>
    {rows.length === 0 && <p class="now">No sap recorded yet. Record the first run here.</p>}
    <a class="deed" href="/sap/gather">
      Gather sap
    </a>
    {page.mayWrite('receipt') && (
      <p>
        <a href="/sap/receive">Record bought sap or syrup</a>
      </p>
    )}
    <DeskTableView desk={desk} />
    <div class="listed">
      <ul class="lots" id="from">
        {rows.map((row) => (
          <li>
            <a class="row two" href={`/lots/${encodeURIComponent(row.code)}`}>
              <span class="code">{row.code}</span>
              <span class="beside">
                <b>{row.amount}</b> {row.left}
              </span>
              <span class="soft day">{row.when}</span>
              <span class="grow">{row.from}</span>
            </a>
          </li>
        ))}
      </ul>
    </div>
    <More {...more} />
  </Layout>
);
