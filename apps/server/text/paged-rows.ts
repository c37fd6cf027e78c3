import type { Paged } from '#pages/parts/more.js';

/** The most rows of a list on a page: a lot may have a million jars below it, too many for a phone. */
export const rowsPerPage = 100;

export interface ListOptions {
  /** The page's own address, and the query parameter for where this list begins. */
  readonly address: string;
  readonly param: string;
  readonly noun: string;
  readonly plural?: string;
  readonly whole?: string;
  /** The rest of the page's query, which stays: the search, where its other lists begin. */
  readonly beside?: readonly [string, string][];
}

/** The links of a page that is one list. */
export const listOptions = (address: string, noun: string, plural = `${noun}s`): ListOptions => ({
  address,
  param: 'from',
  noun,
  plural,
});

/** The first row of a list, from the query: 1 or more; anything else is 1. */
export const firstRow = (query: string | undefined): number => (/^[1-9]\d{0,7}$/.test(query ?? '') ? Number(query) : 1);

/** Cuts a list in memory to what one page shows of it. */
export const pageOfRows = <Row>(all: readonly Row[], query: string | undefined, options: ListOptions): Paged<Row> => {
  const from = firstRow(query);
  return pagedRows(all.slice(from - 1, from - 1 + rowsPerPage), from, all.length, options);
};

/** The same for a part that was read by itself: `rows` begins with number `from`. */
export function pagedRows<Row>(rows: readonly Row[], from: number, count: number, options: ListOptions): Paged<Row> {
  const last = from + rows.length - 1;
  const isWhole = from === 1 && rows.length >= count;
  const noun = options.plural ?? `${options.noun}s`;
  return {
    rows,
    count,
    summary: isWhole
      ? ''
      : rows.length === 0
        ? `none of ${formatNumber(count)} ${noun}`
        : `${formatNumber(from)}–${formatNumber(last)} of ${formatNumber(count)} ${noun}`,
    next: last < count && rows.length > 0 ? addressOf(options, last + 1) : '',
    before: from > 1 ? addressOf(options, Math.max(1, from - rowsPerPage)) : '',
    wholeListHref: isWhole ? '' : (options.whole ?? ''),
  };
}

const formatNumber = (n: number): string => n.toLocaleString('en');

function addressOf({ address, param, beside = [] }: ListOptions, from: number): string {
  const params = new URLSearchParams(beside.filter(([name]) => name !== param));
  if (from > 1) params.set(param, String(from));
  const query = params.toString();
  return `${address}${query && `?${query}`}#${param}`;
}
