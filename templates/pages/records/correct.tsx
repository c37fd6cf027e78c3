import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { ConcurrentEdit } from '../parts/concurrent-edit.js';
import type { FieldView } from '../parts/field-view.js';
import { Field } from '../parts/field.js';
import type { HistoryLine } from '../parts/history.js';
import { Summary, type ProblemView } from '../parts/summary.js';

interface CorrectRow {
  readonly view: FieldView;
  readonly written: string;
  readonly mayStrike: boolean;
  readonly struck: boolean;
}

export interface CorrectPageProps {
  readonly title: string;
  readonly here: string;
  readonly crumb: { readonly href: string; readonly text: string };
  readonly summary: ProblemView | undefined;
  readonly newerEntries?: readonly HistoryLine[];
  readonly action: string;
  readonly seen?: number;
  readonly whyFault: boolean;
  readonly names: { readonly why: string; readonly strike: string };
  readonly why: string;
  readonly rows: readonly CorrectRow[];
}

export const CorrectPage = ({
  title,
  here,
  crumb,
  summary,
  newerEntries: meanwhile,
  action,
  seen,
  whyFault,
  names,
  why,
  rows,
  page,
}: CorrectPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href={crumb.href}>← {crumb.text}</a>
    </p>
    <h1>{title}</h1>
    <p class="now">
      The old value stays in the history, struck through, with your reason. A blank box changes nothing.
    </p>
    <Summary problem={summary} />
    <ConcurrentEdit page={page} newerEntries={meanwhile} />
    <form method="post" action={action} novalidate>
      <input type="hidden" name="_once" value={page.once} />
      {seen !== undefined && <input type="hidden" name="_seen" value={seen} />}
      <div class={`field${whyFault ? ' wrong' : ''}`}>
        <label for={`f-${names.why}`}>
          Why the record is corrected <span class="asked">(needed)</span>
        </label>
        <span class="hint" id={`f-${names.why}-hint`}>
          For example, <span class="code">read the wrong line of the sheet</span>
        </span>
        <input
          id={`f-${names.why}`}
          name={names.why}
          value={why}
          aria-describedby={`f-${names.why}-hint`}
          autocomplete="off"
          aria-invalid={whyFault ? 'true' : undefined}
        />
      </div>
      {rows.map((row) => (
        <div class="written">
          <p class="small">
            <span class="soft">{row.view.label}, recorded:</span>{' '}
            {row.written ? <b>{row.written}</b> : <span class="soft">nothing</span>}
          </p>
          <Field {...row.view} label={'New: ' + row.view.label} />
          {row.mayStrike && (
            <label class="tick">
              <input type="checkbox" name={names.strike} value={row.view.name} checked={row.struck} />
              <span>Remove this value: it was not read</span>
            </label>
          )}
        </div>
      ))}
      <button class="deed">Save correction</button>
    </form>
    <details class="more">
      <summary>This did not happen</summary>
      <form method="post" action={`/records/${action.split('/')[2]}/${action.split('/')[3]}/void`} novalidate>
        <input type="hidden" name="_once" value={`${page.once}-void`} />
        <p>
          For a double entry, or what was begun or sent by mistake. The record stays in the history; lists, drawings and
          sums leave it out.
        </p>
        <div class="field">
          <label for="f-void-why">Why it did not happen</label>
          <input id="f-void-why" name="why" autocomplete="off" />
        </div>
        <button class="quiet">Void it</button>
      </form>
    </details>
  </Layout>
);
