/** A form field as text, whatever type was sent; cut to the longest that our own form allows. */
export const textOf = (value: unknown): string => (typeof value === 'string' ? value.slice(0, 4000) : '');
