/** A field of a form as text, whatever was sent in its place; never longer than a form of ours makes it. */
export const textOf = (value: unknown): string => (typeof value === 'string' ? value.slice(0, 4000) : '');
