/**
 * A sentence for a page: the name of a column or a JSON field is replaced by that of its box, and the command that does
 * the same at a terminal, as in `(book act)` or `: book act 26077A-1.`, is left out.
 */
export const withBoxNames = (text: string): string =>
  text
    .replaceAll('(already_left yes)', '(under “They have already left”)')
    .replace(/ \(book [a-z-]+( [0-9A-Z-]+)?\)/g, '')
    .replace(/: book [a-z-]+ [0-9A-Z-]+\./g, '.');
