import type { RecordKind } from '#libs/records/record-types.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

interface SupportingRecordKindRow {
  readonly id: string;
  readonly day: string;
  readonly clock: string;
  readonly by: string;
  readonly details: readonly { readonly label: string; readonly typed: string }[];
}

export interface SupportingRecordKindPageProps {
  readonly title: string;
  readonly here: string;
  readonly sentence: string | undefined;
  readonly kind: RecordKind;
  readonly plural: string;
  readonly noun: string;
  readonly rows: readonly SupportingRecordKindRow[];
}

/** The records of one kind, newest first. */
export const SupportingRecordKindPage = ({
  title,
  here,
  sentence,
  kind,
  plural,
  noun,
  rows,
  page,
}: SupportingRecordKindPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href="/supporting-records">← Checks, cleaning and supplies</a>
    </p>
    <h1>{title}</h1>
    {sentence && <p class="now">{sentence}</p>}
    {page.mayWrite(kind) && (
      <a class="main-action" href={`/supporting-records/${plural}/new`}>
        New {noun}
      </a>
    )}
    {rows.length === 0 ? (
      <p>None recorded yet.</p>
    ) : (
      <ol class="entry-list">
        {rows.map((row) => (
          <li>
            <span class="when">
              <b>{row.day}</b>
              {row.clock}
            </span>
            <div class="what">
              <p>
                <a class="code" href={`/records/${kind}/${encodeURIComponent(row.id)}`}>
                  {row.id}
                </a>{' '}
                <span class="by">{row.by}</span>
              </p>
              <dl class="in-brief">
                {row.details.map((field) => (
                  <div>
                    <dt>{field.label}</dt> <dd>{field.typed}</dd>
                  </div>
                ))}
              </dl>
            </div>
          </li>
        ))}
      </ol>
    )}
  </Layout>
);
