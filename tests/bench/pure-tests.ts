import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
/** The matchers that Jest brings with it, without the environment that @jest/globals asks for. */
const { expect } = createRequire(require.resolve('@jest/globals'))('expect') as {
  readonly expect: (typeof import('@jest/globals'))['expect'];
};

/**
 * Stands in for Jest where tests of pure functions are run in a process of a few tenths of a second: the tests of a
 * mutation run import it in place of @jest/globals. There are no hooks, for pure tests need none.
 */
type Body = (...row: unknown[]) => unknown;
const queued: { readonly name: string; readonly run: () => unknown }[] = [];
let within: readonly string[] = [];

const add = (name: string, run: () => unknown): void => void queued.push({ name: [...within, name].join(' › '), run });
const rowsOf = (table: readonly unknown[]): unknown[][] =>
  table.map((row): unknown[] => (Array.isArray(row) ? (row as unknown[]) : [row]));

const test = Object.assign((name: string, run: () => unknown) => add(name, run), {
  each: (table: readonly unknown[]) => (name: string, run: Body) =>
    rowsOf(table).forEach((row, n) => add(`${name} (${n + 1})`, () => run(...row))),
});

function block(name: string, body: () => void): void {
  const outer = within;
  within = [...outer, name];
  body();
  within = outer;
}
const describe = Object.assign(block, {
  each: (table: readonly unknown[]) => (name: string, body: Body) =>
    rowsOf(table).forEach((row, n) => block(`${name} (${n + 1})`, () => void body(...row))),
});

export { describe, expect, test, test as it };

/** Runs the tests that were imported, in their order; answers the first that fails with its fault, or how many passed. */
export async function runQueued(): Promise<{ readonly failed: string } | { readonly passed: number }> {
  for (const { name, run } of queued)
    try {
      await run();
    } catch (fault) {
      return { failed: `${name}: ${(fault as Error).message.split('\n')[0] ?? ''}` };
    }
  return { passed: queued.length };
}
