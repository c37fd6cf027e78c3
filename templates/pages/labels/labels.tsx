import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { ConcurrentEdit } from '../parts/concurrent-edit.js';
import { Drawing } from '../parts/drawing.js';
import type { HistoryLine } from '../parts/history.js';
import { type NoteView, NotesOnRecord } from '../parts/notes-on-record.js';
import { type ProblemView, Summary } from '../parts/summary.js';
import { LabelForm, type LabelFormProps } from './label-form.js';

interface LabelRun {
  readonly when: string;
  readonly count: string;
  readonly text: string;
  readonly by: string;
}

export interface LabelsPageProps extends LabelFormProps {
  readonly title: string;
  readonly here: string;
  /** Somebody has read the cautions that are shown before the first labels. */
  readonly cautionsRead: boolean;
  readonly cautions: readonly string[];
  readonly summary: ProblemView | undefined;
  readonly newerEntries?: readonly HistoryLine[];
  /** The label as it will print; absent where it can't be laid out. */
  readonly label?: string;
  readonly notes?: readonly string[];
  /** Notes of the pack and of what it came from. */
  readonly notesOnRecord: readonly NoteView[];
  readonly leftOut: readonly string[];
  readonly whyNotPrintable?: readonly string[];
  readonly missing: readonly string[];
  readonly address: readonly string[];
  /** How many labels were printed for how many jars. */
  readonly count: readonly string[];
  readonly runs: readonly LabelRun[];
}

/**
 * Labels of a pack: the label as it will print, what is missing on it, the form that prints it, and what was printed.
 */
export const LabelsPage = ({ page, ...props }: LabelsPageProps & PageProps) => {
  const { code, cautions } = props;
  return (
    <Layout page={page} title={props.title} here={props.here}>
      <p class="crumb">
        <a href={`/lots/${code}`}>← {code}</a>
      </p>
      <h1>
        Labels for <span class="code">{code}</span>
      </h1>
      {props.cautionsRead ? (
        <>
          <p class="now">
            A label for each jar, with its own code. The same jar always has the same code, however often it is printed.
          </p>
          <Summary problem={props.summary} />
          <ConcurrentEdit page={page} newerEntries={props.newerEntries} />
          <NotesOnRecord notes={props.notesOnRecord} />
          <Preview {...props} />
          <LabelForm {...props} page={page} />
          <Printed {...props} />
          <h2>Cards</h2>
          <p>If unlabelled jars of two lots cool side by side overnight, put a card on each tray.</p>
          <ul class="buttons">
            {cards.map(([kind, label]) => (
              <li>
                <a class="quiet" href={`/lots/${code}/tags/${kind}.pdf`}>
                  {label}
                </a>
              </li>
            ))}
          </ul>
          <details class="cautions">
            <summary>Cautions and whom to ask</summary>
            <ul>
              {cautions.map((caution) => (
                <li>{caution}</li>
              ))}
            </ul>
          </details>
        </>
      ) : (
        <>
          <p class="now">Before the first label: what a label states, and whom to ask.</p>
          <ul>
            {cautions.map((caution) => (
              <li>{caution}</li>
            ))}
          </ul>
          <form method="post" action={`/lots/${code}/labels/read`}>
            <input type="hidden" name="_once" value={page.once} />
            <button class="main-action">I have read it: continue to labels</button>
          </form>
        </>
      )}
    </Layout>
  );
};

const cards = [
  ['tray', 'Tray card'],
  ['case', 'Case card'],
  ['shelf', 'Shelf card'],
  ['neck', 'Neck tags with the story'],
  ['seal', 'Seal strips'],
] as const;

/** The label as it will print, with what is missing or left out. */
const Preview = ({ label, notes = [], leftOut, whyNotPrintable = [], missing, address, mayLink }: LabelsPageProps) => (
  <>
    {label && (
      <figure>
        <figcaption class="soft small">As it will print</figcaption>
        <div class="label-shown">
          <Drawing svg={label} />
        </div>
      </figure>
    )}
    {notes.map((note) => (
      <p class={/^Left out|^The net quantity.*stand/.test(note) ? 'why' : 'soft small'}>{note}</p>
    ))}
    {leftOut.map((sentence) => (
      <p class="why">{sentence}</p>
    ))}
    {whyNotPrintable.map((sentence) => (
      <p class="why">{sentence}</p>
    ))}
    {missing.length > 0 && (
      <>
        <h2>Missing from the label</h2>
        <ul>
          {missing.map((item) => (
            <li>{item}</li>
          ))}
        </ul>
      </>
    )}
    {address.length > 0 && (
      <p class="soft">
        {address.join(' ')}
        {!mayLink && (
          <>
            {' '}
            <a href="/house?box=publicUrl#f-publicUrl">Set the address</a>
          </>
        )}
      </p>
    )}
  </>
);

const Printed = ({ code, count, runs }: LabelsPageProps) => (
  <>
    <h2>Labels and jars</h2>
    {count.map((sentence, n) => (
      <p class={n > 0 ? 'soft' : undefined}>{sentence}</p>
    ))}
    <p>
      <a href={`/lots/${code}/labels/spoiled`}>Record spoiled labels</a>
    </p>
    {runs.length > 0 && (
      <>
        <h2>Printed before</h2>
        <ol class="entry-list">
          {runs.map((run) => (
            <li>
              <span class="when">{run.when}</span>
              <div class="what">
                <p>
                  <b>{run.count}</b> {run.text} <span class="by">{run.by}</span>
                </p>
              </div>
            </li>
          ))}
        </ol>
      </>
    )}
  </>
);
