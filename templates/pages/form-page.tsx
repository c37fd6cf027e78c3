import { Layout } from './layout.js';
import type { PageProps } from './page-context.js';
import { Cautions, type Caution } from './parts/cautions.js';
import { Form, type FormView } from './parts/form.js';
import { type NoteView, NotesOnRecord } from './parts/notes-on-record.js';
import { StatusStamp } from './parts/status-stamp.js';

interface PageLink {
  readonly href: string;
  readonly text: string;
}

export interface RecordedValue {
  readonly label: string;
  readonly value: string;
  readonly correctHref: string | undefined;
}

export interface FormPageProps {
  readonly title: string;
  readonly here: string;
  /** The page that the form belongs to. */
  readonly crumb?: PageLink;
  readonly sentence?: string | undefined;
  readonly notes?: readonly string[] | undefined;
  /** The lot's status as a stamp, what holds it, and what to do about that first. */
  readonly lotStatus?:
    { readonly state: string; readonly holds: readonly string[]; readonly first?: PageLink | undefined } | undefined;
  readonly cautions?: readonly Caution[] | undefined;
  /** Notes of the packs that the form is about, and of what they came from. */
  readonly notesOnRecord?: readonly NoteView[] | undefined;
  /** What is recorded already and isn't asked again, each with its correction where the reader may correct it. */
  readonly recorded?: readonly RecordedValue[] | undefined;
  /** What comes before the form, as the strong button. */
  readonly firstStep?: PageLink | undefined;
  /** Sentences to say on the telephone. */
  readonly phoneScript?: readonly string[] | undefined;
  /** Undefined where there is nothing to enter: the sentence says why. */
  readonly form: FormView | undefined;
  /** Another page for the same task, linked below the form. */
  readonly alternative?: PageLink | undefined;
}

/** A page that is one form. */
export const FormPage = ({
  title,
  here,
  crumb,
  sentence,
  notes = [],
  lotStatus: standing,
  cautions,
  notesOnRecord,
  recorded = [],
  firstStep: lead,
  phoneScript: say = [],
  form,
  alternative: otherwise,
  page,
}: FormPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    {crumb && (
      <p class="crumb">
        <a href={crumb.href}>← {crumb.text}</a>
      </p>
    )}
    <div class="title">
      <h1>{title}</h1>
      {standing && <StatusStamp status={standing.state} />}
    </div>
    {standing && <LotStatus {...standing} />}
    {sentence && <p class="now">{sentence}</p>}
    {notes.map((each) => (
      <p>{each}</p>
    ))}
    {recorded.length > 0 && <RecordedValues values={recorded} />}
    <NotesOnRecord notes={notesOnRecord} />
    <Cautions cautions={cautions} />
    {lead && (
      <a class="main-action next-action" href={lead.href}>
        {lead.text}
      </a>
    )}
    {say.length > 0 && (
      <section>
        <h2>What to say</h2>
        {say.map((each) => (
          <p>{each}</p>
        ))}
      </section>
    )}
    {form && <Form page={page} {...form} />}
    {otherwise && (
      <p>
        <a href={otherwise.href}>{otherwise.text}</a>
      </p>
    )}
  </Layout>
);

const RecordedValues = ({ values }: { readonly values: readonly RecordedValue[] }) => (
  <ul class="lots recorded">
    {values.map(({ label, value, correctHref }) => (
      <li>
        {label}: <b>{value}</b>{' '}
        {correctHref ? <a href={correctHref}>Correct</a> : <span class="soft">A maker can correct it.</span>}
      </li>
    ))}
  </ul>
);

const LotStatus = ({ holds, first }: NonNullable<FormPageProps['lotStatus']>) => (
  <>
    {holds.length > 0 && (
      <div class="why">
        {holds.map((each) => (
          <p>{each}</p>
        ))}
      </div>
    )}
    {first && (
      <p>
        <a class="main-action next-action" href={first.href}>
          {first.text}
        </a>
      </p>
    )}
  </>
);
