/** What a browser posts: one text per name, or several where a name was posted several times. */
export type Posted = Readonly<Record<string, string | string[] | undefined>>;

/** The first text posted under a name, trimmed; empty where none was. */
export const firstText = (value: string | string[] | undefined): string =>
  (Array.isArray(value) ? (value[0] ?? '') : (value ?? '')).trim();
/** For a box with choices above it: typed text takes precedence over a picked choice. */
export const typedOrPicked = (posted: Posted, name: string): string =>
  firstText(posted[name]) || firstText(posted[`${name}~pick`]);
/** All texts posted under a name, trimmed, without blanks. */
export const allTexts = (value: string | string[] | undefined): string[] =>
  (Array.isArray(value) ? value : value === undefined ? [] : [value]).map((each) => each.trim()).filter(Boolean);
