import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { History, type HistoryLine } from '../parts/history.js';

export interface EntryPageProps {
  readonly title: string;
  readonly here: string;
  readonly entry: number;
  readonly history: readonly HistoryLine[];
  readonly happened: string;
  readonly typed: string;
  readonly enteredBy: string | undefined;
  readonly by: string;
  readonly corrects: number | undefined;
  readonly about: readonly string[];
  readonly record: { readonly kind: string; readonly id: string; readonly name: string } | undefined;
  readonly leaf: string;
  readonly json: string;
  /** Whether the seed of the entry's jar codes is left out of `json`. */
  readonly withoutSeed: boolean;
}

/** One entry of the log. */
export const EntryPage = ({
  title,
  here,
  entry,
  history,
  happened,
  typed,
  enteredBy,
  by,
  corrects,
  about,
  record,
  leaf,
  json,
  withoutSeed,
  page,
}: EntryPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      {record ? (
        <a href={`/records/${record.kind}/${encodeURIComponent(record.id)}`}>← {record.name}</a>
      ) : (
        <a href="/history">← Record log</a>
      )}
    </p>
    <h1>Entry {entry}</h1>
    <History page={page} history={history} />
    <dl class="facts">
      <dt>Happened</dt>
      <dd>{happened}</dd>
      <dt>Written</dt>
      <dd>
        {typed} by {enteredBy ?? by}
      </dd>
      {corrects !== undefined && (
        <>
          <dt>Replaces</dt>
          <dd>
            <a href={`/records/${corrects}`}>entry {corrects}</a>
          </dd>
        </>
      )}
      {about.length > 0 && (
        <>
          <dt>About</dt>
          <dd>
            {about.map((lot) => (
              <>
                <a class="code" href={`/lots/${encodeURIComponent(lot)}`}>
                  {lot}
                </a>{' '}
              </>
            ))}
          </dd>
        </>
      )}
      {record && (
        <>
          <dt>Of</dt>
          <dd>
            <a href={`/records/${record.kind}/${encodeURIComponent(record.id)}`}>{record.name}</a>
          </dd>
        </>
      )}
    </dl>
    <details class="more">
      <summary>As stored and hashed</summary>
      <p>Leaf hash</p>
      <code class="root">{leaf}</code>
      {withoutSeed && (
        <p>
          The seed of its jar codes is left out, as it would reveal the code of every jar. The owner’s export of the
          record log has the whole text, from which the leaf hash is made.
        </p>
      )}
      <pre tabindex={0}>{json}</pre>
    </details>
  </Layout>
);
