import type { DispatchKind } from '#libs/records/record-types.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { type DeskTable, DeskTableView } from '../parts/desk-table.js';
import { More, type MoreProps } from '../parts/more.js';

interface DispatchListRow {
  readonly id: string;
  readonly lot: string;
  readonly jars: string;
  readonly how: DispatchKind;
  readonly to: string;
  readonly when: string;
  readonly planned: boolean;
}

export interface DispatchListPageProps {
  readonly title: string;
  readonly here: string;
  /** The same as a table, for a wide screen. */
  readonly desk: DeskTable;
  readonly rows: readonly DispatchListRow[];
  readonly more: MoreProps;
}

export const DispatchListPage = ({ title, here, desk, rows, more, page }: DispatchListPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>Sent out</h1>
    {page.may('helper') && (
      <>
        {page.mayWrite('dispatch') && (
          <a class="deed" href="/dispatches/new">
            Send out
          </a>
        )}
        <p>
          {page.mayWrite('dispatch') && (
            <>
              <a href="/dispatches/new?kind=returned">Take jars back</a>
              {' · '}
            </>
          )}
          <a href="/dispatches/count">Count the shelf</a>
        </p>
      </>
    )}
    {rows.length === 0 && <p class="now">No jars sent out yet.</p>}
    <DeskTableView desk={desk} />
    <div class="listed">
      <ol class="ledger" id="from">
        {rows.map((row) => (
          <li>
            <span class="when">
              <b>{row.when}</b>
              {row.planned ? 'planned' : row.how}
            </span>
            <div class="what">
              <p>
                <b>{row.jars}</b> of{' '}
                <a class="code" href={`/lots/${row.lot}`}>
                  {row.lot}
                </a>{' '}
                {row.how === 'returned' ? 'back from' : 'to'} {row.to}
              </p>
              <p class="small">
                <a class="act" href={`/records/dispatch/${encodeURIComponent(row.id)}`}>
                  {row.id}
                </a>
              </p>
            </div>
          </li>
        ))}
      </ol>
    </div>
    <More {...more} />
  </Layout>
);
