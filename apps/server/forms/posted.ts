/** What a browser posts: a text for each name, several where a name was there several times. */
export type Posted = Readonly<Record<string, string | string[] | undefined>>;
