import { readdirSync, readFileSync } from 'node:fs';
import { createRequire, type SourceMapPayload } from 'node:module';
import { dirname, join, relative } from 'node:path';
import { Script } from 'node:vm';
import { transformSync } from '@swc/core';
import { packageRoot } from '#libs/package-root.js';
import { pureTests } from './pure-tests.js';

/**
 * libs/syrup and its tests in one process, evaluated afresh for each run, so that one file can be replaced each time.
 */
export interface PureSuite {
  /**
   * Runs the test files up to the first failure, with another text for one source file if given: the test file that
   * failed and its message, or undefined where all pass.
   */
  run(
    tests: readonly string[],
    other?: { readonly file: string; readonly text: string },
  ): Promise<{ readonly test: string; readonly said: string } | undefined>;
}

/** A compiled source file with its source map. */
export interface CompiledSource {
  readonly file: string;
  /** As the engine sees it, with the wrapper's line. */
  readonly code: string;
  readonly map: SourceMapPayload;
}

type Evaluate = (exports: object, require: (name: string) => unknown, module: object) => void;
/** How the engine names these scripts. */
export const scheme = 'pure:';

const require = createRequire(import.meta.url);

/** The test files of libs/syrup, by the names of their files. */
export const pureTestFiles = (): string[] =>
  readdirSync(join(packageRoot, 'tests/syrup')).filter((name) => name.endsWith('.test.ts'));

/** Compiles each file on first use. */
export async function pureSuite(): Promise<PureSuite & { compiled(): readonly CompiledSource[] }> {
  const compiled = new Map<string, CompiledSource & { readonly evaluate: Evaluate }>();
  // Anything that is neither libs/syrup nor a test is loaded once: mutants and coverage are of libs/syrup alone.
  const outside = new Map<string, object>([
    ['fast-check', { __esModule: true, ...(await import('fast-check')) }],
    ['#libs/actions/places/places.js', await import('#libs/actions/places/places.js')],
    ['#libs/package-root.js', await import('#libs/package-root.js')],
  ]);

  const evaluator = (file: string): Evaluate => {
    const known = compiled.get(file) ?? compile(file, readFileSync(join(packageRoot, file), 'utf8'));
    compiled.set(file, known);
    return known.evaluate;
  };

  return {
    compiled: () => [...compiled.values()],
    run: async (tests, other) => {
      const changed = other && compile(other.file, other.text).evaluate;
      for (const name of tests) {
        const { globals, runQueued } = pureTests();
        const loaded = new Map<string, object>();
        const load = (file: string): object => {
          const known = loaded.get(file);
          if (known) return known;
          const exports = {};
          loaded.set(file, exports);
          const evaluate = changed && file === other.file ? changed : evaluator(file);
          evaluate(exports, (specifier) => needed(file, specifier), { exports });
          return exports;
        };
        const needed = (from: string, specifier: string): unknown => {
          if (specifier === '@jest/globals') return globals;
          const found = outside.get(specifier);
          if (found) return found;
          if (specifier.startsWith('#libs/'))
            return load(`libs/${specifier.slice('#libs/'.length)}`.replace(/\.js$/, '.ts'));
          if (specifier.startsWith('.')) return load(join(dirname(from), specifier).replace(/\.js$/, '.ts'));
          return require(specifier);
        };
        try {
          load(`tests/syrup/${name}`);
        } catch (fault) {
          return { test: name, said: `not loaded: ${(fault as Error).message}` };
        }
        const said = await runQueued();
        if (said !== undefined) return { test: name, said };
      }
      return undefined;
    },
  };
}

function compile(file: string, text: string): CompiledSource & { readonly evaluate: Evaluate } {
  const { code: script, map } = transformSync(text, {
    filename: relative(packageRoot, file),
    sourceMaps: true,
    jsc: { parser: { syntax: 'typescript' }, target: 'es2022' },
    module: { type: 'commonjs' },
    swcrc: false,
  });
  const code = `(function (exports, require, module) {\n${script}\n})`;
  const evaluate = new Script(code, { filename: `${scheme}${file}` }).runInThisContext() as Evaluate;
  return { file, code, map: JSON.parse(map ?? '{}') as SourceMapPayload, evaluate };
}
