import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

/** A row of the file: each value under its label. */
export interface FileRow {
  readonly line: number;
  readonly values: readonly { readonly label: string; readonly value: string }[];
}

export interface FilePreviewPageProps {
  readonly title: string;
  readonly here: string;
  readonly name: string;
  readonly faults: readonly string[];
  readonly faultCount: number;
  readonly rows: number;
  readonly kind: string;
  readonly written: number;
  readonly corrected: number;
  readonly same: number;
  readonly ticket: string | undefined;
  readonly notes: readonly string[];
  readonly ids: readonly string[];
  /** The first rows as they are in the file; blank where it has faults. */
  readonly firstRows: readonly FileRow[];
}

/** What a file would change, with the faults of its rows, before it is imported. */
export const FilePreviewPage = ({
  title,
  here,
  name,
  faults,
  faultCount,
  rows,
  kind,
  written,
  corrected,
  same,
  ticket,
  notes,
  ids,
  firstRows,
  page,
}: FilePreviewPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href="/files">← Files</a>
    </p>
    <h1>{name}</h1>
    {faults.length > 0 ? (
      <>
        <div class="summary" role="alert">
          <h2>
            {faultCount} {faultCount === 1 ? 'fault' : 'faults'}: nothing was saved
          </h2>
          <ul>
            {faults.map((fault) => (
              <li>{fault}</li>
            ))}
          </ul>
        </div>
        <p>Fix the file and check it again. One bad row stops the whole file.</p>
        <a class="main-action" href="/files">
          Choose the file again
        </a>
      </>
    ) : (
      <>
        <p class="now">
          {rows} {rows === 1 ? 'row' : 'rows'} of {kind}: {written} new, {corrected} corrected, {same} already recorded.
          Nothing is saved yet.
        </p>
        {ticket && (
          <form method="post" action="/files/import">
            <input type="hidden" name="_once" value={page.once} />
            <input type="hidden" name="ticket" value={ticket} />
            <button class="main-action">Import them</button>
          </form>
        )}
      </>
    )}
    {firstRows.length > 0 && <FirstRows firstRows={firstRows} rows={rows} />}
    {notes.length > 0 && (
      <>
        <h2>Notes</h2>
        <ul>
          {notes.map((note) => (
            <li>{note}</li>
          ))}
        </ul>
      </>
    )}
    {ids.length > 0 && (
      <>
        <h2>Records</h2>
        <p class="code">{ids.join(' ')}</p>
      </>
    )}
  </Layout>
);

const FirstRows = ({ firstRows, rows }: Pick<FilePreviewPageProps, 'firstRows' | 'rows'>) => (
  <>
    <h2>{firstRows.length < rows ? `The first ${firstRows.length} of ${rows} rows` : 'The rows'}</h2>
    <ol class="entry-list">
      {firstRows.map(({ line, values }) => (
        <li>
          <span class="when">line {line}</span>
          <div class="what">
            <p>
              {values.map(({ label, value }) => (
                <>
                  <span class="soft">{label}</span> <b>{value}</b> &ensp;{' '}
                </>
              ))}
            </p>
          </div>
        </li>
      ))}
    </ol>
  </>
);
