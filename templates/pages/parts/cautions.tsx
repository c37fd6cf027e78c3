export interface Caution {
  readonly text: string;
  readonly source: string;
}

export interface CautionsProps {
  readonly cautions: readonly Caution[] | undefined;
}

/** Cautions, folded away; their number is shown. */
export const Cautions = ({ cautions }: CautionsProps) =>
  cautions && cautions.length > 0 ? (
    <details class="cautions">
      <summary>{cautions.length === 1 ? 'One caution' : cautions.length + ' cautions'}</summary>
      <ul>
        {cautions.map((caution) => (
          <li>
            {caution.text} <span class="source">{caution.source}</span>
          </li>
        ))}
      </ul>
    </details>
  ) : null;
