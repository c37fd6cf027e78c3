/** A sentence for a page: the name of a column or a JSON field is replaced by that of its box. */
export const withBoxNames = (text: string): string =>
  text.replaceAll('(already_left yes)', '(under “They have already left”)');
