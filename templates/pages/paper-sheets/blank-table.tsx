export interface BlankTableProps {
  readonly columns: readonly string[];
  readonly caption?: string;
}

/** A table to write in with a pen. */
export const BlankTable = ({ columns, caption }: BlankTableProps) => (
  <div class="scroll" tabindex={0} role="region" aria-label="Readings">
    <table class="blank">
      {caption && <caption>{caption}</caption>}
      <thead>
        <tr>
          {columns.map((heading) => (
            <th scope="col">{heading}</th>
          ))}
        </tr>
      </thead>
      <tbody>
        {Array.from({ length: 14 }, () => (
          <tr>
            {columns.map(() => (
              <td />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  </div>
);
