/** The same instant in UTC, always 24 characters, so that instants sort and compare as text. */
export function utcOf(instant: string | Date): string {
  return (instant instanceof Date ? instant : new Date(instant)).toISOString();
}
