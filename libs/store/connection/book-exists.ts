import { existsSync } from 'node:fs';
import type { BookLocation } from './engine.js';

/** Separate from the engine, so that a calculator that only checks for a book loads no database. */
export const bookExists = (location: BookLocation): boolean => 'url' in location || existsSync(location.file);
