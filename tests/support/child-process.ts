import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { transformSync } from '@swc/core';
import { packageRoot } from '#libs/package-root.js';

/** Our sources compiled for plain Node, for processes that a test starts and kills. */
export interface Compiled {
  /** A script of tests/, such as `faults/write-on.ts`, as a path to run. */
  script(name: string): string;
  remove(): void;
}

/**
 * Compiles libs/ and the named scripts of tests/ into a folder under node_modules: there, packages are found, and no
 * earlier build is tested instead.
 */
export function compileFor(scripts: readonly string[]): Compiled {
  const cache = join(packageRoot, 'node_modules', '.cache');
  mkdirSync(cache, { recursive: true });
  const folder = mkdtempSync(join(cache, 'boilbook-test-'));
  const sources = readdirSync(join(packageRoot, 'libs'), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => join('libs', name));
  for (const name of [...sources, ...scripts.map((script) => join('tests', script))]) compile(folder, name);
  writeFileSync(
    join(folder, 'package.json'),
    JSON.stringify({ name: 'boilbook-under-test', type: 'module', imports: { '#libs/*': './libs/*' } }),
  );
  return {
    script: (name) => join(folder, 'tests', name.replace(/\.ts$/, '.js')),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

function compile(folder: string, name: string): void {
  const target = join(folder, name.replace(/\.ts$/, '.js'));
  mkdirSync(dirname(target), { recursive: true });
  const { code } = transformSync(readFileSync(join(packageRoot, name), 'utf8'), {
    filename: relative(packageRoot, name),
    swcrc: false,
    jsc: { parser: { syntax: 'typescript', decorators: true }, target: 'es2022', keepClassNames: true },
    module: { type: 'es6' },
  });
  writeFileSync(target, code);
}

export interface Ended {
  /** Exit status, or null where it was killed. */
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly lines: readonly string[];
  readonly errors: string;
}
export interface Child {
  readonly process: ChildProcess;
  /** Lines written to standard output so far; the last one only once it is complete. */
  readonly lines: readonly string[];
  /** Resolves with the first line that matches; rejects if the process ends before. */
  waitForLine(line: RegExp): Promise<string>;
  readonly ended: Promise<Ended>;
}

/** Starts a command and keeps its output. It is a process of its own: it can be killed at any moment. */
export function startChild(command: string, args: readonly string[], options: { detached?: boolean } = {}): Child {
  const process = spawn(command, args, { stdio: ['pipe', 'pipe', 'pipe'], ...options });
  const lines: string[] = [];
  const waiting: { line: RegExp; resolve: (line: string) => void; reject: (fault: Error) => void }[] = [];
  let begun = '';
  let errors = '';
  process.stderr.on('data', (some: Buffer) => (errors += some.toString()));
  process.stdout.on('data', (some: Buffer) => {
    const parts = (begun + some.toString()).split('\n');
    begun = parts.pop() ?? '';
    for (const line of parts) {
      lines.push(line);
      for (const each of waiting) if (each.line.test(line)) each.resolve(line);
    }
  });
  const ended = new Promise<Ended>((resolve, reject) => {
    process.once('error', reject);
    process.once('close', (code, signal) => {
      for (const each of waiting)
        each.reject(new Error(`ended (${code ?? signal}) without saying ${each.line}\n${errors}`));
      resolve({ code, signal, lines, errors });
    });
  });
  ended.catch(() => {});
  return {
    process,
    lines,
    ended,
    waitForLine: (line) =>
      new Promise((resolve, reject) => {
        const found = lines.find((each) => line.test(each));
        if (found !== undefined) resolve(found);
        else waiting.push({ line, resolve, reject });
      }),
  };
}
