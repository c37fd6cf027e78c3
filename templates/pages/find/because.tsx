/** Part of a hit's text, cut around the word searched for. */
export interface Because {
  readonly label: string;
  readonly before: string;
  readonly hit: string;
  readonly after: string;
}

/** Why it was found. */
export const Reasons = ({ because }: { readonly because: readonly Because[] }) => (
  <>
    {because.map(({ label, before, hit, after }) => (
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
