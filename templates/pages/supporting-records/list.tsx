import type { RecordKind } from '#libs/records/record-types.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

interface SupportingRecordListRow {
  readonly kind: RecordKind;
  readonly plural: string;
  readonly text: string;
  readonly noun: string;
  readonly count: number;
}

export interface SupportingRecordListPageProps {
  readonly title: string;
  readonly here: string;
  readonly rows: readonly SupportingRecordListRow[];
}

/** The kinds of supporting records, with how many there are of each. */
export const SupportingRecordListPage = ({ title, here, rows, page }: SupportingRecordListPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>Checks, cleaning and supplies</h1>
    <p class="now">Supporting records for the inspector.</p>
    <ul class="lots side-by-side">
      {rows.map((row) => (
        <li>
          <a class="row" href={`/supporting-records/${row.plural}`}>
            <span class="grow">
              <b>{row.text}</b>
            </span>
            <span class="tally soft">{row.count}</span>
          </a>
          {page.mayWrite(row.kind) && (
            <a class="quiet next" href={`/supporting-records/${row.plural}/new`}>
              Add<span class="unseen">: {row.noun}</span>
            </a>
          )}
        </li>
      ))}
    </ul>
  </Layout>
);
