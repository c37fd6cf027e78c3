import type { PageProps } from '../page-context.js';
import { ConcurrentEdit } from '../parts/concurrent-edit.js';
import type { FieldView } from '../parts/field-view.js';
import { Field } from '../parts/field.js';
import type { HistoryLine } from '../parts/history.js';
import { type ProblemView, Summary } from '../parts/summary.js';
import { Authorities, type RecallAuthority } from './authorities.js';

export interface RecallFormProps {
  readonly codes: readonly string[];
  readonly reach: string;
  /** Whom to consult first, in sentences. */
  readonly ownAuthorities: readonly string[];
  readonly authorities: readonly RecallAuthority[];
  readonly form: {
    readonly problem: ProblemView | undefined;
    readonly fields: readonly FieldView[];
    readonly seen?: number;
    readonly newerEntries?: readonly HistoryLine[];
  };
}

/** The form that recalls the lots of the list; the affected jars are listed above its button. */
export const RecallForm = ({ list, page }: PageProps & { readonly list: RecallFormProps }) => (
  <>
    <h2>Recall {list.codes.length === 1 ? 'it' : 'them all'}</h2>
    <p>
      Recalls these lots and every lot made from their syrup. A recall is final. Ask your authority what the law
      requires.
    </p>
    {list.ownAuthorities.map((each) => (
      <p>{each}</p>
    ))}
    {list.authorities.length > 0 && <Authorities authorities={list.authorities} />}
    <p class="now">{list.reach}</p>
    <Summary problem={list.form.problem} />
    <ConcurrentEdit page={page} newerEntries={list.form.newerEntries} />
    <form method="post" action="/recall" novalidate>
      <input type="hidden" name="_once" value={page.once} />
      {list.form.seen !== undefined && <input type="hidden" name="_seen" value={list.form.seen} />}
      {list.codes.map((code) => (
        <input type="hidden" name="lot" value={code} />
      ))}
      {list.form.fields.map((field) => (
        <Field {...field} />
      ))}
      <button class="main-action stopping">Recall {list.codes.length === 1 ? 'it' : 'them all'}</button>
    </form>
  </>
);
