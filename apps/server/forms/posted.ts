/** What a browser posts: a text for each name, several where a name was there several times. */
export type Posted = Readonly<Record<string, string | string[] | undefined>>;

/** The first text posted under a name, trimmed; empty where none was. */
export const one = (value: string | string[] | undefined): string =>
  (Array.isArray(value) ? (value[0] ?? '') : (value ?? '')).trim();
/** Of a box with choices above it: what was typed goes before what was picked. */
export const typedOrPicked = (posted: Posted, name: string): string => one(posted[name]) || one(posted[`${name}~pick`]);
/** All texts posted under a name, trimmed, without blanks. */
export const all = (value: string | string[] | undefined): string[] =>
  (Array.isArray(value) ? value : value === undefined ? [] : [value]).map((each) => each.trim()).filter(Boolean);
