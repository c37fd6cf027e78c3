/** `2026-03-18`: a day as recorded in the book's zone. This order is understood in every country. */
export const day = (iso: string | null): string => (iso === null ? '' : iso.slice(0, 10));

/** `18 Mar`, under a heading that gives the year; a day of another year in full. */
export function shortDay(iso: string | null, year: number): string {
  if (iso === null || Number(iso.slice(0, 4)) !== year) return day(iso);
  const month = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ')[Number(iso.slice(5, 7)) - 1];
  return `${Number(iso.slice(8, 10))} ${month ?? ''}`;
}

/** `2026-03-18 14:05`. */
export const minute = (iso: string | null): string =>
  iso === null ? '' : `${iso.slice(0, 10)} ${iso.slice(11, 16)}`.trim();

/** `14:05`. */
export const clock = (iso: string | null): string => (iso === null ? '' : iso.slice(11, 16));

/** `Wren Ellery (WE)`, or the initials alone where the book doesn't know them. */
export function named(
  initials: string | null,
  people: readonly { readonly initials: string; readonly name: string }[],
): string {
  if (initials === null) return 'not recorded';
  const person = people.find((one) => one.initials === initials);
  return person ? `${person.name} (${initials})` : initials;
}

const grouping = new Intl.NumberFormat('en-US', { maximumFractionDigits: 0 });

/** `2,400`. */
export const whole = (number: number): string => grouping.format(number);

/** One decimal and no grouping. */
export const tenth = (number: number): string => number.toFixed(1);

/** `1 jar`, `12 jars`. */
export const many = (number: number, one: string, more = `${one}s`): string =>
  `${whole(number)} ${number === 1 ? one : more}`;

/** The root in groups of eight characters, for reading aloud. */
export const grouped = (root: string): string => root.replace(/(.{8})(?=.)/g, '$1 ');

/** What the root shows and what it doesn't, in plain words. */
export const rootText = (record: { readonly entries: number; readonly root: string }): string =>
  `This root is a hash of all ${whole(record.entries)} entries of the record in their order. Anyone can recompute it from ` +
  'the book: if an entry had been changed, moved or left out since this page was printed, the result would ' +
  'differ. It does not prove that an entry was true when it was written.';
