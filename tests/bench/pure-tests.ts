import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
/** Jest's own matchers, without the environment that @jest/globals needs. */
const { expect } = createRequire(require.resolve('@jest/globals'))('expect') as {
  readonly expect: (typeof import('@jest/globals'))['expect'];
};

type Body = (...row: unknown[]) => unknown;

/**
 * Replaces Jest where tests of pure functions run hundreds of times in one process: a test file gets it in place of
 * @jest/globals. It has no hooks, since pure tests need none.
 */
export function pureTests() {
  const queued: { readonly name: string; readonly run: () => unknown }[] = [];
  let within: readonly string[] = [];
  const add = (name: string, run: () => unknown): void =>
    void queued.push({ name: [...within, name].join(' › '), run });
  const test = Object.assign((name: string, run: () => unknown) => add(name, run), {
    each: (table: readonly unknown[]) => (name: string, run: Body) =>
      rowsOf(table).forEach((row, n) => add(`${name} (${n + 1})`, () => run(...row))),
  });
  const block = (name: string, body: () => void): void => {
    const outer = within;
    within = [...outer, name];
    body();
    within = outer;
  };
  const describe = Object.assign(block, {
    each: (table: readonly unknown[]) => (name: string, body: Body) =>
      rowsOf(table).forEach((row, n) => block(`${name} (${n + 1})`, () => void body(...row))),
  });
  return {
    globals: { describe, expect, test, it: test },
    /** Runs the tests in order up to the first failure: its message, or undefined where all pass. */
    runQueued: async (): Promise<string | undefined> => {
      for (const { name, run } of queued)
        try {
          await run();
        } catch (fault) {
          return `${name}: ${(fault as Error).message.split('\n')[0] ?? ''}`;
        }
      return undefined;
    },
  };
}

const rowsOf = (table: readonly unknown[]): unknown[][] =>
  table.map((row): unknown[] => (Array.isArray(row) ? (row as unknown[]) : [row]));
