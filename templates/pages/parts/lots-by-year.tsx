import { Drawing } from './drawing.js';
import { StatusStamp } from './status-stamp.js';
import { Swatch } from './swatch.js';

export interface LotRow {
  readonly code: string;
  readonly state: string;
  readonly year: number;
  readonly day: string;
  readonly sentence: string;
  readonly amount?: string;
  readonly container?: string;
  /** The colour of the syrup. */
  readonly swatch?: string | undefined;
  /** Its small lot diagram. */
  readonly diagram: string | undefined;
}

/** Lots in the order given, under the heading of their year. */
export const LotsByYear = ({ rows }: { readonly rows: readonly LotRow[] }) => (
  <>
    {byYear(rows).map(([year, list]) => (
      <>
        <h2>{year}</h2>
        <ul class="lots">
          {list.map((row) => (
            <li>
              <a class="row two" href={`/lots/${row.code}`}>
                <span class="code">{row.code}</span>
                <span class="beside">
                  <StatusStamp status={row.state} />
                  {row.swatch && <Swatch fill={row.swatch} />}
                  {row.container ?? ''}
                  {row.amount !== undefined && row.amount !== '' && <b>{row.amount}</b>}
                </span>
                <span class="soft day">{row.day}</span>
                <span class="grow">{row.sentence}</span>
                {row.diagram && <Drawing svg={row.diagram} />}
              </a>
            </li>
          ))}
        </ul>
      </>
    ))}
  </>
);

/** Groups consecutive rows of the same year. */
function byYear(rows: readonly LotRow[]): [year: number, rows: LotRow[]][] {
  const years: [number, LotRow[]][] = [];
  for (const row of rows) {
    const last = years.at(-1);
    if (last && last[0] === row.year) last[1].push(row);
    else years.push([row.year, [row]]);
  }
  return years;
}
