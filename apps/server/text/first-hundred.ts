import type { Paged } from '#pages/parts/more.js';

/** The most rows of a list on a page: a lot may have a million jars below it, too many for a phone. */
export const atOnce = 100;

export interface RecordOptions {
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
export const listOf = (address: string, noun: string, plural = `${noun}s`): RecordOptions => ({
  address,
  param: 'from',
  noun,
  plural,
});

/** The first row of a list, from the query: 1 or more; anything else is 1. */
export const beginsAt = (query: string | undefined): number => (/^[1-9]\d{0,7}$/.test(query ?? '') ? Number(query) : 1);

/** Cuts a list in memory to what one page shows of it. */
export const firstHundred = <Row>(
  all: readonly Row[],
  query: string | undefined,
  recordOptions: RecordOptions,
): Paged<Row> => {
  const from = beginsAt(query);
  return shownPart(all.slice(from - 1, from - 1 + atOnce), from, all.length, recordOptions);
};

/** The same for a part that was read by itself: `rows` begins with number `from`. */
export function shownPart<Row>(
  rows: readonly Row[],
  from: number,
  count: number,
  recordOptions: RecordOptions,
): Paged<Row> {
  const last = from + rows.length - 1;
  const whole = from === 1 && rows.length >= count;
  const noun = recordOptions.plural ?? `${recordOptions.noun}s`;
  return {
    rows,
    count,
    summary: whole
      ? ''
      : rows.length === 0
        ? `none of ${numbered(count)} ${noun}`
        : `${numbered(from)}–${numbered(last)} of ${numbered(count)} ${noun}`,
    next: last < count && rows.length > 0 ? addressOf(recordOptions, last + 1) : '',
    before: from > 1 ? addressOf(recordOptions, Math.max(1, from - atOnce)) : '',
    whole: whole ? '' : (recordOptions.whole ?? ''),
  };
}

const numbered = (n: number): string => n.toLocaleString('en');

function addressOf({ address, param, beside = [] }: RecordOptions, from: number): string {
  const question = new URLSearchParams(beside.filter(([name]) => name !== param));
  if (from > 1) question.set(param, String(from));
  const query = question.toString();
  return `${address}${query && `?${query}`}#${param}`;
}
