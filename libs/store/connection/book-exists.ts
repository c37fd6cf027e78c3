import { existsSync } from 'node:fs';
import type { Keeping } from './engine.js';

/** Apart from the engine, so that a calculator that only asks for a book loads no database. */
export const bookExists = (keeping: Keeping): boolean => 'url' in keeping || existsSync(keeping.file);
