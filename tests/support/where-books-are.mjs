import { tmpdir } from 'node:os';

/**
 * Where a test puts its books: the memory folder of this run of jest (`before-run.mjs`), else the usual temporary
 * folder.
 */
export const whereBooksAre = () => process.env['BOILBOOK_TEST_BOOKS'] ?? tmpdir();
