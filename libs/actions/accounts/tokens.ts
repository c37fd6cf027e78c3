import { createHash, randomBytes } from 'node:crypto';

/** 256 random bits, encoded for a cookie, a key or a link. */
export const newToken = (): string => randomBytes(32).toString('base64url');

/** The stored form of a token. A token is long and random, so a plain hash is enough. */
export const hashOfToken = (token: string): string => createHash('sha256').update(token).digest('hex');
