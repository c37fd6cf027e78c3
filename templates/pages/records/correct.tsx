import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { ConcurrentEdit } from '../parts/concurrent-edit.js';
import { ChoiceButton } from '../parts/choice-field.js';
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

interface ListedField {
  readonly name: string;
  readonly label: string;
  readonly typed: string;
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
  readonly names: { readonly why: string; readonly strike: string; readonly field: string };
  readonly field: string;
  /** The fields to pick from; undefined where fields are shown with their boxes. */
  readonly list: { readonly recorded: readonly ListedField[]; readonly blank: readonly ListedField[] } | undefined;
  readonly why: string;
  readonly rows: readonly CorrectRow[];
  /** The form to void the record; undefined where records of its kind are only corrected. */
  readonly toVoid: VoidFormView | undefined;
}

interface VoidFormView {
  readonly action: string;
  /** Its reason was refused: the form is open, with what was typed. */
  readonly isRefused: boolean;
  readonly why: string;
  /** The id of the box of the reason, after `f-`. */
  readonly box: string;
}

/** The correction of a record, with its stored values beside empty boxes. */
export const CorrectPage = ({
  title,
  here,
  crumb,
  summary,
  newerEntries: newer,
  action,
  seen,
  whyFault,
  names,
  field,
  list,
  why,
  rows,
  toVoid,
  page,
}: CorrectPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href={crumb.href}>← {crumb.text}</a>
    </p>
    <h1>{title}</h1>
    <p class="now">
      {list ? 'Tap the value that is wrong.' : 'Blank boxes change nothing.'} The old value stays in the history, struck
      through, with your reason.
    </p>
    <Summary problem={summary} />
    <ConcurrentEdit page={page} newerEntries={newer} />
    {list ? (
      <FieldList list={list} />
    ) : (
      <form method="post" action={action} novalidate>
        <input type="hidden" name="_once" value={page.once} />
        <input type="hidden" name={names.field} value={field} />
        {seen !== undefined && <input type="hidden" name="_seen" value={seen} />}
        {rows.map((row) => (
          <Row row={row} strike={names.strike} />
        ))}
        <Reason name={names.why} why={why} isWrong={whyFault} />
        <button class="main-action">Save correction</button>
        <p>
          <a href={action}>Another value</a>
        </p>
      </form>
    )}
    {toVoid && <VoidForm {...toVoid} page={page} />}
  </Layout>
);

const VoidForm = ({ action, isRefused, why, box, page }: VoidFormView & PageProps) => (
  <details class="more" open={isRefused}>
    <summary>This did not happen</summary>
    <form method="post" action={action} novalidate>
      <input type="hidden" name="_once" value={`${page.once}-void`} />
      <p>
        For a double entry, or something started or sent by mistake. The record stays in the history; lists, drawings
        and totals leave it out.
      </p>
      <div class={`field${isRefused ? ' wrong' : ''}`}>
        <label for={`f-${box}`}>
          Why it did not happen <span class="asked">(needed)</span>
        </label>
        <input
          id={`f-${box}`}
          name="why"
          value={why}
          autocomplete="off"
          aria-invalid={isRefused ? 'true' : undefined}
        />
      </div>
      <button class="quiet">Void it</button>
    </form>
  </details>
);

interface FieldListProps {
  readonly list: NonNullable<CorrectPageProps['list']>;
}

/** The values as they are recorded, to tap the wrong one. */
const FieldList = ({ list: { recorded, blank } }: FieldListProps) => (
  <>
    <Fields fields={recorded} />
    {blank.length > 0 && (
      <details class="more">
        <summary>Not recorded ({blank.length})</summary>
        <Fields fields={blank} />
      </details>
    )}
    <p>
      <a href="?field=all">Change several at once</a>
    </p>
  </>
);

const Fields = ({ fields }: { readonly fields: readonly ListedField[] }) => (
  <ul class="lots">
    {fields.map(({ name, label, typed }) => (
      <li>
        <a class="row" href={`?field=${name}`}>
          <span class="grow">
            <span class="soft">{label}</span>
            {typed && (
              <>
                <br />
                <b>{typed}</b>
              </>
            )}
          </span>
          <span class="beside">Change</span>
        </a>
      </li>
    ))}
  </ul>
);

const Row = ({ row, strike }: { readonly row: CorrectRow; readonly strike: string }) => (
  <div class="written">
    <p class="small">
      <span class="soft">{row.view.label}, recorded:</span>{' '}
      {row.written ? <b>{row.written}</b> : <span class="soft">nothing</span>}
    </p>
    <Field {...row.view} label={'New: ' + row.view.label} />
    {row.mayStrike && (
      <label class="tick">
        <input type="checkbox" name={strike} value={row.view.name} checked={row.struck} />
        <span>Remove this value: it was not read</span>
      </label>
    )}
  </div>
);

const usualReasons = ['a slip in typing', 'read the wrong line', 'wrong unit', 'wrong lot'];

interface ReasonProps {
  readonly name: string;
  readonly why: string;
  readonly isWrong: boolean;
}

/** The reason: one of the usual ones, or a text. */
const Reason = ({ name, why, isWrong }: ReasonProps) => {
  const isOther = !usualReasons.includes(why);
  return (
    <div class={`field${isWrong ? ' wrong' : ''}`}>
      <fieldset id={`f-${name}`} tabindex={-1}>
        <legend class="label">
          Why the record is corrected <span class="asked">(needed)</span>
        </legend>
        <div class="choices">
          {usualReasons.map((reason) => (
            <ChoiceButton name={name} value={reason} text={reason} chosen={reason === why} />
          ))}
          <ChoiceButton name={name} value="" text="other" chosen={isOther} />
        </div>
        <input
          name={name}
          value={isOther ? why : ''}
          autocomplete="off"
          aria-label="Why, in other words"
          aria-invalid={isWrong ? 'true' : undefined}
          data-other=""
        />
      </fieldset>
    </div>
  );
};
