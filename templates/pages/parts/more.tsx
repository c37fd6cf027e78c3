/** Links to the rest of a list that is shown in part; an address is blank where there is nothing more. */
export interface MoreProps {
  /** `101–200 of 34,000 jars`; blank where all of them are shown. */
  readonly summary: string;
  readonly before: string;
  readonly next: string;
  /** The whole list as a file. */
  readonly wholeListHref: string;
}

/** Part of a list, how many there are in all, and links to the rest. */
export interface Paged<Row> extends MoreProps {
  readonly rows: readonly Row[];
  readonly count: number;
}

/** Which part of a list this is, and links to the rest. */
export const More = ({ summary, before, next, wholeListHref }: MoreProps) =>
  summary ? (
    <p class="rest">
      <b>{summary}</b>
      {before && (
        <>
          {' '}
          &ensp;
          <a class="act" href={before}>
            ← those before
          </a>
        </>
      )}
      {next && (
        <>
          {' '}
          &ensp;
          <a class="act" href={next}>
            the next hundred →
          </a>
        </>
      )}
      {wholeListHref && (
        <>
          {' '}
          &ensp;
          <a class="act" href={wholeListHref}>
            all of them, CSV
          </a>
        </>
      )}
    </p>
  ) : null;
