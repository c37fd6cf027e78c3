export interface ToTickProps {
  readonly legend: string;
  readonly items: readonly string[];
}

/** Squares to tick with a pen, each on one line with its text. */
export const ToTick = ({ legend, items }: ToTickProps) => (
  <p class="to-tick">
    {legend}:
    {items.map((item) => (
      <>
        {' '}
        <span class="thing">
          <span class="square" aria-hidden="true" /> {item}
        </span>
      </>
    ))}
  </p>
);
