import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

interface KindOfFile {
  readonly plural: string;
  readonly columns: readonly { readonly name: string; readonly needed: boolean; readonly example: string }[];
}

export interface FilesPageProps {
  readonly title: string;
  readonly here: string;
  readonly fault: string | undefined;
  readonly kinds: readonly KindOfFile[];
}

/** Imports and exports by kind of file, with the columns of each. */
export const FilesPage = ({ title, here, fault, kinds, page }: FilesPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <h1>Files</h1>
    {fault && (
      <div class="summary" role="alert" tabindex={-1} id="summary">
        <h2>Not checked yet</h2>
        <ul>
          <li>{fault}</li>
        </ul>
      </div>
    )}
    {page.may('maker') && <ImportForm kinds={kinds} />}
    <h2>Export a file</h2>
    <ul class="buttons">
      {kinds.map((kind) => (
        <li>
          <a class="quiet" href={`/files/export/${kind.plural}.csv`} download>
            {kind.plural}
          </a>
        </li>
      ))}
    </ul>
    <RecordCheck page={page} />
    {page.may('owner') && page.wholeBook && <Backup page={page} />}
    <h2>For scripts</h2>
    <p>
      <a href="/api/docs">API reference</a>: each address under /api, what it takes and what it returns.{' '}
      <a href="/api/openapi.json">The same as OpenAPI</a>, for a program. An owner makes keys on the People page.
    </p>
    <Columns kinds={kinds} />
  </Layout>
);

const ImportForm = ({ kinds }: Pick<FilesPageProps, 'kinds'>) => (
  <>
    <h2>Import a file</h2>
    <p>The file is checked first: every fault is listed, and nothing is saved until you confirm. All rows or none.</p>
    <form method="post" action="/files/preview" enctype="multipart/form-data" novalidate>
      <div class="field">
        <fieldset>
          <legend class="label">Kind of records</legend>
          <div class="choices">
            {kinds.map((kind, n) => (
              <label class="choice">
                <input type="radio" name="kind" value={kind.plural} checked={n === 0} />
                <span>{kind.plural}</span>
              </label>
            ))}
          </div>
        </fieldset>
      </div>
      <div class="field">
        <label for="f-file">The file</label>
        <span class="hint" id="h-file">
          CSV with a header row
        </span>
        <input id="f-file" name="file" type="file" accept=".csv,text/csv" aria-describedby="h-file" />
      </div>
      <details class="more">
        <summary>Paste rows instead, or correct recorded ones</summary>
        <div class="field">
          <label for="f-rows">Rows, with the header</label>
          <textarea id="f-rows" name="rows" rows={6} />
        </div>
        <div class="field">
          <label for="f-why">Why records are corrected</label>
          <span class="hint" id="h-why">
            If blank, a row that differs from its record is refused
          </span>
          <input id="f-why" name="why" autocomplete="off" aria-describedby="h-why" />
        </div>
      </details>
      <button class="main-action">Check the file</button>
    </form>
  </>
);

/** The record and the program that checks it without Boilbook. */
const RecordCheck = ({ page }: PageProps) => (
  <>
    <h2>Check the record without Boilbook</h2>
    <p>
      Give an inspector two files: the record, and the program that checks it on any computer with Node:{' '}
      <code>node verify-record.mjs boilbook-record.json</code>. It recomputes the printed root and every hold.
    </p>
    <ul class="buttons">
      {page.may('owner') && page.wholeBook && (
        <li>
          <a class="quiet" href="/files/record.json" download>
            The record (JSON)
          </a>
        </li>
      )}
      <li>
        <a class="quiet" href="/files/verify-record.mjs" download>
          The program that checks it
        </a>
      </li>
    </ul>
    {!(page.may('owner') && page.wholeBook) && (
      <p>Ask the owner for the record: only an owner can download it, since all jar codes can be calculated from it.</p>
    )}
  </>
);

const Backup = ({ page }: PageProps) => (
  <>
    <h2>Backup</h2>
    <p>
      One file with all records, checked before it is downloaded. Keep it off this machine and private: it contains the
      accounts.
    </p>
    <form method="post" action="/files/backup">
      <input type="hidden" name="_once" value={page.once} />
      <button class="quiet">Download a backup</button>
    </form>
    <p>
      <a href="/backups">Backups, and how to restore one</a>
    </p>
  </>
);

/** The columns of each kind of file. */
const Columns = ({ kinds }: Pick<FilesPageProps, 'kinds'>) => (
  <>
    <h2>Columns</h2>
    {kinds.map((kind) => (
      <details class="more">
        <summary>{kind.plural}</summary>
        <dl class="facts">
          {kind.columns.map((column) => (
            <>
              <dt>
                <code>{column.name}</code>
                {column.needed ? ' (needed)' : ''}
              </dt>
              <dd>
                <code>{column.example || '…'}</code>
              </dd>
            </>
          ))}
        </dl>
      </details>
    ))}
  </>
);
