/** A text whose ISO dates are never broken at their hyphens at the end of a line. */
export const wholeDates = (text: string) =>
  text.split(/(\d{4}-\d{2}-\d{2})/).map((part, n) => (n % 2 === 1 ? <span class="whole">{part}</span> : part));
