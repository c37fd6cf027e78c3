/** A sentence as a page says it: the name of a column or a JSON field becomes that of its box. */
export const withBoxNames = (text: string): string =>
  text.replaceAll('(already_left yes)', '(under “They have already left”)');
