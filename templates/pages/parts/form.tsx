import type { PageProps } from '../page-context.js';
import { withBoxLines } from './box-fault.js';
import { ConcurrentEdit } from './concurrent-edit.js';
import { FieldGroup, type FormGroup } from './field-group.js';
import type { HistoryLine } from './history.js';
import { TakePhoto } from './take-photo.js';
import { Summary, type ProblemView } from './summary.js';

/** A form that writes a record. */
export interface FormView {
  readonly action: string;
  /** The button's text. */
  readonly submitLabel: string;
  /** It can't be undone, or it stops a lot. */
  readonly stopping?: boolean;
  /** Another button of the page comes first, so this one is not the strong one. */
  readonly second?: boolean;
  /** The name under which the page's script stores a draft. */
  readonly draft?: string;
  /** The last entry that this page takes into account. */
  readonly seen?: number;
  /** What holds the lot, as this page shows it: a release accepts nothing else. */
  readonly holds?: string | undefined;
  readonly newerEntries?: readonly HistoryLine[];
  /** What was picked last time, by field; `keeps` is the rest of the page's query, which stays. */
  readonly same?: Readonly<Record<string, string>> | undefined;
  readonly keeps?: string | undefined;
  readonly focus?: string | undefined;
  /** The box that codes scanned from labels go into. */
  readonly photo?: string;
  /** A photo may be taken with it, as evidence for the record. */
  readonly takesPhoto?: boolean;
  readonly problem?: ProblemView | undefined;
  readonly groups: readonly FormGroup[];
}

/** A form with its error summary, its fields and its button. */
export const Form = ({ page, ...form }: FormView & PageProps) => (
  <>
    <Summary problem={withBoxLines(form.problem, form.groups)} />
    <ConcurrentEdit page={page} newerEntries={form.newerEntries} />
    <form
      method="post"
      action={form.action}
      data-draft={form.draft}
      enctype={form.takesPhoto ? 'multipart/form-data' : undefined}
      novalidate
    >
      <input type="hidden" name="_once" value={page.once} />
      {form.seen !== undefined && <input type="hidden" name="_seen" value={form.seen} />}
      {form.holds !== undefined && <input type="hidden" name="_holds" value={form.holds} />}
      {form.same && (
        <p>
          <a class="quiet" href={`?same=1${form.keeps ? `&${form.keeps}` : ''}`} data-same={JSON.stringify(form.same)}>
            Same as last time
          </a>
        </p>
      )}
      {form.groups.map((group) => (
        <FieldGroup
          group={group}
          focus={form.problem ? undefined : form.focus}
          photo={form.photo}
          camera={page.isPrivateConnection}
        />
      ))}
      {form.takesPhoto && <TakePhoto problem={form.problem} />}
      <button class={`main-action${form.stopping ? ' stopping' : ''}${form.second ? ' second' : ''}`}>
        {form.submitLabel}
      </button>
      {form.problem?.clock && (
        <button class="main-action quiet" name="_clock" value="right">
          The server’s clock is right: {form.submitLabel.toLowerCase()}
        </button>
      )}
    </form>
  </>
);
