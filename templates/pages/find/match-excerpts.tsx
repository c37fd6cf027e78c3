/** Part of a hit's text, cut around the word searched for. */
export interface MatchExcerpt {
  readonly label: string;
  readonly before: string;
  readonly hit: string;
  readonly after: string;
}

/** Why it was found. */
export const MatchExcerpts = ({ matches }: { readonly matches: readonly MatchExcerpt[] }) => (
  <>
    {matches.map(({ label, before, hit, after }) => (
      <>
        {' '}
        <span class="because soft small">
          {label}: {before}
          <mark>{hit}</mark>
          {after}
        </span>
      </>
    ))}
  </>
);
