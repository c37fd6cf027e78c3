export interface ToTickProps {
  readonly legend: string;
  readonly things: readonly string[];
}

/** Squares to tick with a pen, each on one line with its text. */
export const ToTick = ({ legend, things }: ToTickProps) => (
  <p class="to-tick">
    {legend}:
    {things.map((thing) => (
      <>
        {' '}
        <span class="thing">
          <span class="square" aria-hidden="true" /> {thing}
        </span>
      </>
    ))}
  </p>
);
