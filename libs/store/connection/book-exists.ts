import { existsSync } from 'node:fs';
import type { BookLocation } from './engine.js';

/** Apart from the engine, so that a calculator that only asks for a book loads no database. */
export const bookExists = (location: BookLocation): boolean => 'url' in location || existsSync(location.file);
