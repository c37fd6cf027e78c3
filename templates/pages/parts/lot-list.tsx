import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import type { DesktopTable } from './desktop-table.js';
import { LotsByYear, type LotRow } from './lots-by-year.js';
import { More, type MoreProps } from './more.js';
import { Prerendered, type Rendered } from './drawing.js';

/** Props of every list, whatever its rows are. */
export interface ListProps<Row> {
  readonly title: string;
  readonly here: string;
  /** The same as a table, for a wide screen. */
  readonly desktop: DesktopTable;
  readonly rows: readonly Row[];
  readonly more: MoreProps;
}

/** Props of a list of lots. */
export interface LotListProps {
  readonly title: string;
  readonly here: string;
  readonly more: MoreProps;
  /** The table for a wide screen, rendered by `DesktopTableView`. */
  readonly table: Rendered;
  /** The rows, rendered by `LotRows`: the same for every reader, and most of the page's cost. */
  readonly body: Rendered;
}

interface PageLink {
  readonly href: string;
  readonly label: string;
}

interface OwnProps extends LotListProps, PageProps {
  readonly start: PageLink;
  /** The form that copies a finished lot from paper; undefined for people who may not. */
  readonly fromPaper: PageLink | undefined;
  /** The list of what comes before these lots or after them. */
  readonly related: PageLink;
}

interface LotRowsProps extends Pick<ListProps<LotRow>, 'rows'> {
  /** The text shown while there is no lot. */
  readonly none: string;
}

/** Boils or packs by year: the button that starts one, then the list, and its table on a wide screen. */
export const LotList = ({ title, here, table, body, more, start, fromPaper, related, page }: OwnProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>{title}</h1>
    {page.may('helper') && (
      <a class="main-action" href={start.href}>
        {start.label}
      </a>
    )}
    <p>
      {fromPaper && (
        <>
          <a href={fromPaper.href}>{fromPaper.label}</a> &ensp;{' '}
        </>
      )}
      <a href={related.href}>{related.label}</a>
    </p>
    <Prerendered part={table} page={page} />
    <Prerendered part={body} page={page} />
    <More {...more} />
  </Layout>
);

/** The rows of the list, which are the same for every reader. */
export const LotRows = ({ rows, none }: LotRowsProps) => (
  <div class="listed">
    <span id="from" />
    <LotsByYear rows={rows} />
    {rows.length === 0 && <p class="now">{none}</p>}
  </div>
);
