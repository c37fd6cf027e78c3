import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { DesktopTableView } from '../parts/desktop-table.js';
import type { ListProps } from '../parts/lot-list.js';
import { More } from '../parts/more.js';

interface SapListRow {
  readonly code: string;
  readonly from: string | undefined;
  readonly amount: string;
  readonly left: string;
  readonly when: string;
}

export type SapListPageProps = ListProps<SapListRow>;

/** Sap and syrup that came in, newest first; as a table on a wide screen. */
export const SapListPage = ({ title, here, desktop, rows, more, page }: SapListPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>Sap</h1>
    {rows.length === 0 && <p class="now">No sap recorded yet. Record the first run here.</p>}
    <a class="main-action" href="/sap/gather">
      Gather sap
    </a>
    {page.mayWrite('receipt') && (
      <p>
        <a href="/sap/receive">Record bought sap or syrup</a>
        {rows.length > 0 && (
          <>
            {' '}
            &ensp;<a href="/boils/begin">Start a boil</a>
          </>
        )}
      </p>
    )}
    <DesktopTableView desktop={desktop} />
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
