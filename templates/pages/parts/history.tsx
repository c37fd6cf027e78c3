import type { RecordKind } from '#libs/records/record-types.js';
import type { PageProps } from '../page-context.js';

/** An entry of the log as a line of the history. */
export interface HistoryLine {
  readonly entry: number;
  readonly clock: string;
  readonly day: string;
  readonly by: string;
  readonly enteredBy: string | undefined;
  readonly text: string;
  /** How much later than it happened it was written, if that was long. */
  readonly late: string | undefined;
  readonly from: string | undefined;
  readonly why: string | undefined;
  /** `now` is the value that a later entry corrected it to. */
  readonly readings: readonly { readonly label: string; readonly typed: string; readonly now: string | undefined }[];
  readonly changes: readonly { readonly label: string; readonly was: string; readonly now: string }[];
  /** The page that corrects the record of this line, and the record's kind; undefined for entries that can't be corrected. */
  readonly correct: { readonly href: string; readonly kind: RecordKind } | undefined;
}

export interface HistoryProps {
  readonly history: readonly HistoryLine[];
  /** Without anchors and correction links: inside another page's form. */
  readonly bare?: boolean;
}

/** Entries, newest first: who, when, what, and what was corrected. */
export const History = ({ history, bare, page }: HistoryProps & PageProps) => (
  <ol class="entry-list">
    {history.map((line) => (
      <li id={!bare ? `entry-${line.entry}` : undefined}>
        <span class="when">
          <b>{line.clock}</b>
          {line.day}
        </span>
        <div class="what">
          <What line={line} />
          {line.changes.map((change) => (
            <p>
              <span class="soft">{change.label}</span> {change.now && <ins>{change.now}</ins>}{' '}
              {change.was && <del>{change.was}</del>}
            </p>
          ))}
          {line.readings.length > 0 && <EntryReadings readings={line.readings} />}
          {line.why && <p class="soft">“{line.why}”</p>}
          {!bare && <EntryLinks line={line} page={page} />}
        </div>
      </li>
    ))}
  </ol>
);

/** What was recorded, by whom, and whether somebody else entered it or it was entered late. */
const What = ({ line }: { readonly line: HistoryLine }) => (
  <p>
    {line.text} <span class="by">{line.by}</span>
    {line.enteredBy && (
      <>
        {' '}
        <span class="soft small">
          entered by {line.enteredBy} for {line.by}
        </span>
      </>
    )}
    {line.late && (
      <>
        {' '}
        <span class="late small">written {line.late} later</span>
      </>
    )}
    {line.from && (
      <>
        {' '}
        <span class="soft small">{line.from}</span>
      </>
    )}
  </p>
);

const EntryReadings = ({ readings }: Pick<HistoryLine, 'readings'>) => (
  <p>
    {readings.map((reading) => (
      <>
        <span class="tally">
          <span class="soft">{reading.label}</span>{' '}
          {reading.now !== undefined ? (
            <>
              <ins>{reading.now}</ins> <del>{reading.typed}</del>
            </>
          ) : (
            <b>{reading.typed}</b>
          )}
        </span>{' '}
      </>
    ))}
  </p>
);

const EntryLinks = ({ line, page }: PageProps & { readonly line: HistoryLine }) => (
  <p class="small">
    <a class="act" href={`/records/${line.entry}`}>
      entry {line.entry}
    </a>
    {line.correct && page.may('maker') && page.mayWrite(line.correct.kind) && (
      <>
        {' '}
        &ensp;
        <a class="act" href={line.correct.href}>
          correct it
        </a>
      </>
    )}
  </p>
);
