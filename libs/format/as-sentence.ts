/** The text with a full stop, unless it is empty or ends with one, a question mark or an exclamation mark. */
export const asSentence = (text: string): string => (text === '' || /[.!?]$/.test(text) ? text : `${text}.`);

/** What a finding found and what its rule requires, as sentences: `Found: 176 °F. Required: 180 °F or more.` */
export const foundAndRequired = ({ found, limit }: { readonly found: string; readonly limit: string }): string =>
  `Found: ${asSentence(found)} Required: ${asSentence(limit)}`;
