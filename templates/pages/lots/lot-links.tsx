/** Another lot and how much of it, as typed. */
export interface LotLink {
  readonly code: string;
  readonly typed: string;
}

/** Lots in a row, each with the amount that went from it or into it. */
export const LotLinks = ({ lots }: { readonly lots: readonly LotLink[] }) => (
  <>
    {lots.map(({ code, typed }) => (
      <>
        <a class="code" href={`/lots/${code}`}>
          {code}
        </a>{' '}
        {typed} &ensp;
      </>
    ))}
  </>
);
