/** A noun with its indefinite article: `a pack`, `an answer`. Of a plain English word, by its first letter. */
export const withArticle = (noun: string): string => `${/^[aeio]/i.test(noun) ? 'an' : 'a'} ${noun}`;
