/** A table for a page: sorted and filtered by its address, so that it needs no script. */
export interface DesktopTable {
  /** The plural noun for the rows, such as `boils`. */
  readonly noun: string;
  readonly address: string;
  /** The filter and the order of the address; blank where there is none. */
  readonly q: string;
  readonly sort: string;
  /** How many rows there are, in words. */
  readonly countText: string;
  /** The address of the same rows as a file. */
  readonly csv: string;
  readonly columns: readonly {
    readonly heading: string;
    readonly href: string;
    readonly look: string;
    /** The column's order, as ARIA names it. */
    readonly sorted: 'ascending' | 'descending' | undefined;
  }[];
  readonly rows: readonly { readonly href: string; readonly cells: readonly DesktopCell[] }[];
}

interface DesktopCell {
  readonly text: string;
  /** `number`, `code` or `state`; blank for plain text. */
  readonly look: string;
}

export interface DesktopTableProps {
  readonly desktop: DesktopTable | undefined;
}

/**
 * A list as a table, for a wide screen: sorted by a heading, filtered by words, exported as a file. A list without rows
 * has none: nothing can be filtered, and the page itself says what to record first.
 */
export const DesktopTableView = ({ desktop }: DesktopTableProps) =>
  desktop && (desktop.rows.length > 0 || desktop.q !== '') ? (
    <section class="desktop" aria-label={`Table of ${desktop.noun}`}>
      <Filter {...desktop} />
      {desktop.rows.length > 0 ? (
        <div class="scrolls" tabindex={0} role="region" aria-label={desktop.noun}>
          <table class="desktop-table">
            <Headings columns={desktop.columns} />
            <tbody>
              {desktop.rows.map(({ href, cells }) => (
                <tr>
                  {cells.map((cell, n) => (
                    <Cell {...cell} href={n === 0 ? href : undefined} />
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      ) : (
        <p class="now">
          No {desktop.noun} with “{desktop.q}”.
        </p>
      )}
    </section>
  ) : null;

const Filter = ({ address, q, sort, csv, countText }: DesktopTable) => (
  <form method="get" action={address} role="search" class="desktop-filter">
    <label for="f-desktop">Filter</label>
    <input id="f-desktop" name="q" value={q} autocomplete="off" />
    {sort && <input type="hidden" name="sort" value={sort} />}
    <button class="quiet">Filter</button>
    {(q || sort) && (
      <a class="act" href={address}>
        Show all
      </a>
    )}
    <a class="act" href={csv} download>
      Export as CSV
    </a>
    <span class="soft" role="status">
      {countText}
    </span>
  </form>
);

const Headings = ({ columns }: Pick<DesktopTable, 'columns'>) => (
  <thead>
    <tr>
      {columns.map(({ heading, href, look, sorted }) => (
        <th scope="col" class={look === 'number' ? 'n' : undefined} aria-sort={sorted}>
          <a href={href}>
            {heading}
            {sorted && (
              <>
                {' '}
                <span aria-hidden="true">{sorted === 'ascending' ? '▲' : '▼'}</span>
              </>
            )}
          </a>
        </th>
      ))}
    </tr>
  </thead>
);

const classOf: Readonly<Record<string, string>> = { number: 'n', code: 'code' };

/** `href`: the first cell of a row links to the row's page. */
const Cell = ({ text, look, href }: DesktopCell & { readonly href: string | undefined }) => (
  <td class={classOf[look]}>
    {href !== undefined ? (
      <a class="code" href={href}>
        {text}
      </a>
    ) : look === 'state' && text !== 'open' ? (
      <span class={`stamp small ${text}`}>{text.toUpperCase()}</span>
    ) : (
      text
    )}
  </td>
);
