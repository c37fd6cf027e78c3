import type { DispatchKind } from '#libs/records/kinds/dispatch.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { DesktopTableView } from '../parts/desktop-table.js';
import { DispatchText } from '../parts/dispatches.js';
import type { ListProps } from '../parts/lot-list.js';
import { More } from '../parts/more.js';

interface DispatchListRow {
  readonly id: string;
  readonly lot: string;
  readonly jars: string;
  readonly kind: DispatchKind;
  readonly to: string;
  readonly when: string;
  readonly planned: boolean;
}

export type DispatchListPageProps = ListProps<DispatchListRow>;

/** Jars sent out and returned, newest first; as a table on a wide screen. */
export const DispatchListPage = ({ title, here, desktop, rows, more, page }: DispatchListPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>Sent out</h1>
    {page.may('helper') && (
      <>
        {page.mayWrite('dispatch') && (
          <a class="main-action" href="/dispatches/new">
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
    <DesktopTableView desktop={desktop} />
    <div class="listed">
      <ol class="entry-list" id="from">
        {rows.map((row) => (
          <li>
            <span class="when">
              <b>{row.when}</b>
              {row.planned ? 'planned' : row.kind}
            </span>
            <div class="what">
              <p>
                <DispatchText {...row} />
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
