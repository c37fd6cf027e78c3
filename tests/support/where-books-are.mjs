import { tmpdir } from 'node:os';

/** Where a test puts its books: the memory that this run of jest was given (`before-run.mjs`), else the usual place. */
export const whereBooksAre = () => process.env['BOILBOOK_TEST_BOOKS'] ?? tmpdir();
