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
  /** A list, whose items are corrected one at a time. */
  readonly isList: boolean;
  readonly mayStrike: boolean;
  readonly struck: boolean;
}

interface ListedField {
  readonly name: string;
  readonly label: string;
  readonly typed: string;
  /** Of a list: its items, each to be corrected by itself. */
  readonly items: readonly string[];
}

/** The item of a list that the page corrects. */
interface ItemView {
  /** The hidden field, and its value: the item's text, or `new` where the page adds one. */
  readonly name: string;
  readonly value: string;
  readonly isNew: boolean;
  /** The other items. */
  readonly stays: readonly string[];
  /** The page that adds one; undefined where this is it. */
  readonly addHref: string | undefined;
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
  readonly item: ItemView | undefined;
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
  item,
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
        {rows.map((row) =>
          item ? <ItemRow row={row} item={item} strike={names.strike} /> : <Row row={row} strike={names.strike} />,
        )}
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
    {fields.flatMap(({ name, label, typed, items }) =>
      items.length > 0 ? (
        [
          ...items.map((text, n) => <ListedValue href={`?field=${name}&item=${n}`} label={label} typed={text} />),
          <ListedValue href={`?field=${name}&item=new`} label={label} typed="" text="Add one that was left out" />,
        ]
      ) : (
        <ListedValue href={`?field=${name}`} label={label} typed={typed} />
      ),
    )}
  </ul>
);

interface ListedValueProps {
  readonly href: string;
  readonly label: string;
  readonly typed: string;
  readonly text?: string;
}

const ListedValue = ({ href, label, typed, text = 'Change' }: ListedValueProps) => (
  <li>
    <a class="row" href={href}>
      <span class="grow">
        <span class="soft">{label}</span>
        {typed && (
          <>
            <br />
            <b>{typed}</b>
          </>
        )}
      </span>
      <span class="beside">{text}</span>
    </a>
  </li>
);

interface RowProps {
  readonly row: CorrectRow;
  readonly strike: string;
}

/** One item of a list, and the others, which stay. */
const ItemRow = ({ row: { view, struck }, item, strike }: RowProps & { readonly item: ItemView }) => (
  <div class="written">
    <input type="hidden" name={item.name} value={item.value} />
    <p class="small">
      <span class="soft">{item.isNew ? `${view.label}: one that was left out` : `${view.label}, recorded:`}</span>{' '}
      {!item.isNew && <b>{item.value}</b>}
    </p>
    <Field {...view} {...oneReading(view)} label={'New: ' + view.label} />
    {!item.isNew && (
      <label class="tick">
        <input type="checkbox" name={strike} value={view.name} checked={struck} />
        <span>Remove it: it should not be in the record</span>
      </label>
    )}
    {item.stays.length > 0 && (
      <p class="small">
        <span class="soft">Stays as it is:</span> {item.stays.join(' · ')}
      </p>
    )}
    {item.addHref && (
      <p>
        <a href={item.addHref}>Add one that was left out</a>
      </p>
    )}
  </div>
);

/** One row of boxes for the reading that is corrected. */
const oneReading = ({ readings }: FieldView) =>
  readings ? { readings: readings.slice(0, 1), readingsInSight: 1 } : {};

const Row = ({ row, strike }: RowProps) => (
  <div class="written">
    <p class="small">
      <span class="soft">{row.view.label}, recorded:</span>{' '}
      {row.written ? <b>{row.written}</b> : <span class="soft">nothing</span>}
    </p>
    {row.isList ? (
      <p>
        <a href={`?field=${row.view.name}`}>Correct one of them</a>
      </p>
    ) : (
      <Field {...row.view} label={'New: ' + row.view.label} />
    )}
    {row.mayStrike && !row.isList && (
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
