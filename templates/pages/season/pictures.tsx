import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { Drawing, Prerendered, type Rendered } from '../parts/drawing.js';

interface Picture {
  readonly title: string;
  /** A description, for people who can't see it. */
  readonly caption: string;
  /** Drawn for a phone and for a desktop: the style sheet shows the one that fits. */
  readonly narrow: string;
  readonly broad: string;
  readonly table: FigureTable;
}

interface FigureTable {
  readonly columns: readonly Column[];
  readonly lines: readonly (readonly string[])[];
  /** The last row is the total of the others. */
  readonly summed: boolean;
  /** The number of rows that are not shown. */
  readonly left: number;
}

interface Column {
  readonly heading: string;
  readonly isNumber?: boolean;
  /** Codes of lots. */
  readonly isCode?: boolean;
  readonly isLong?: boolean;
  /** Highlights `NO` and the like. */
  readonly isVerdict?: boolean;
}

export interface PicturesPageProps {
  readonly title: string;
  readonly here: string;
  readonly year: number;
  /** The pictures, rendered by `Pictures`: the same for every reader. */
  readonly body: Rendered;
}

/** The season in charts, each with its figures as a table. */
export const PicturesPage = ({ title, here, year, body, page }: PicturesPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <p class="crumb">
      <a href={`/season/${year}`}>← Season {year}</a>
    </p>
    <h1>Pictures of {year}</h1>
    <Prerendered part={body} page={page} />
  </Layout>
);

/** Each picture under its title, with its figures. */
export const Pictures = ({ year, pictures }: { readonly year: number; readonly pictures: readonly Picture[] }) => (
  <div class="pictures">
    {pictures.map((picture) => (
      <section>
        <h2>{picture.title}</h2>
        <figure class="chart" role="img" aria-label={picture.caption}>
          <div class="narrow">
            <Drawing svg={picture.narrow} />
          </div>
          <div class="broad">
            <Drawing svg={picture.broad} />
          </div>
        </figure>
        {picture.table.lines.length > 0 && <Figures title={picture.title} year={year} table={picture.table} />}
      </section>
    ))}
  </div>
);

/** Longer tables are folded away. */
const maxOpenLines = 16;

const Figures = ({
  title,
  year,
  table: { columns, lines, summed, left },
}: {
  readonly title: string;
  readonly year: number;
  readonly table: FigureTable;
}) => (
  <details class="more" open={lines.length <= maxOpenLines}>
    <summary>
      The figures<span class="unseen"> of {title}</span>
    </summary>
    <div class="scroll" tabindex={0} role="region" aria-label={`Figures of ${title}`}>
      <table class={`figures${columns.some((column) => column.isLong ?? column.isVerdict) ? ' rows' : ''}`}>
        <thead>
          <tr>
            {columns.map((column) => (
              <th scope="col" class={column.isNumber ? 'n' : undefined}>
                {column.heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {lines.map((line, n) => (
            <tr class={summed && n === lines.length - 1 ? 'sum' : undefined}>
              {columns.map((column, k) => (
                <Cell column={column} text={line[k] ?? ''} isFirst={k === 0} />
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
    {left > 0 && (
      <p class="soft">
        and {left.toLocaleString('en')} more, in{' '}
        <a href={`/api/seasons/${year}/summary.xlsx`} download>
          the season’s sheet
        </a>
      </p>
    )}
  </details>
);

const Cell = ({
  column,
  text,
  isFirst,
}: {
  readonly column: Column;
  readonly text: string;
  readonly isFirst: boolean;
}) => {
  if (!isFirst) return <td class={classOf(column, text)}>{text}</td>;
  return (
    <th scope="row">
      {column.isCode && /^\d/.test(text) ? (
        <a class="code" href={`/lots/${text}`}>
          {text}
        </a>
      ) : (
        text
      )}
    </th>
  );
};

function classOf(column: Column, text: string): string {
  if (column.isNumber) return 'n';
  if (column.isLong) return 'long';
  return column.isVerdict && /^[A-Z]{2}/.test(text) ? 'against' : '';
}
