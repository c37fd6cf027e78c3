// Transpiles changed TypeScript into dist without checking types, with the options that the tests use: under a second
// for one changed file. npm run check checks the types; npm run build compiles everything.
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const program = ['apps', 'libs', join('templates', 'pages')];
/** What `npm run bench` runs besides the program: it shares what the tests set up. */
export const benchmarks = ['tests'];

/**
 * Transpiles every source that is newer than its output, and removes output without a source. Uses swc, as the tests
 * do: the TypeScript compiler is twice as large and installed only for checking types. Of the benchmarks it copies what
 * is JavaScript already; of the program no such script runs from `dist`.
 * @param {string} out the folder that holds the JavaScript, `dist`
 * @param {readonly string[]} folders those of the sources, `benchmarks` or the program's
 * @returns {Promise<number>} how many files it wrote
 */
export async function transpileChanged(out, folders = program) {
  const pattern = folders === benchmarks ? /(?<!\.d|\.test)\.(ts|mjs|cjs)$/ : /(?<!\.d)\.tsx?$/;
  const sources = folders.flatMap((folder) => filesIn(join(root, folder), pattern).map((file) => join(folder, file)));
  const changed = sources.filter((source) => isOlder(join(out, scriptOf(source)), join(root, source)));
  const transpile = changed.length > 0 ? await bySwc() : undefined;
  for (const source of changed) {
    const script = join(out, scriptOf(source));
    mkdirSync(dirname(script), { recursive: true });
    if (source.endsWith('js')) {
      copyFileSync(join(root, source), script);
      continue;
    }
    const { code, map } = transpile(source);
    writeFileSync(script, `${code}\n//# sourceMappingURL=${script.split('/').at(-1)}.map\n`);
    if (map) writeFileSync(`${script}.map`, map);
  }
  const wanted = new Set(sources.map(scriptOf));
  for (const folder of folders)
    for (const file of filesIn(join(out, folder), /\.js$/))
      if (!wanted.has(join(folder, file))) rmSync(join(out, folder, file));
  return changed.length;
}

async function bySwc() {
  const { default: swc } = await import('@swc/core');
  return (source) => swc.transformFileSync(join(root, source), { ...swcOptions(source), sourceMaps: true });
}

/** Options for swc: decorators as Nest needs them, pages as preact components. */
export function swcOptions(source) {
  const jsc = source.endsWith('.tsx')
    ? {
        parser: { syntax: 'typescript', tsx: true },
        transform: { react: { runtime: 'automatic', importSource: 'preact' } },
      }
    : {
        parser: { syntax: 'typescript', decorators: true },
        transform: { legacyDecorator: true, decoratorMetadata: true, useDefineForClassFields: false },
        keepClassNames: true,
      };
  return { jsc: { ...jsc, target: 'es2022' }, module: { type: 'es6' }, swcrc: false };
}

const scriptOf = (source) => source.replace(/\.tsx?$/, '.js');
const isOlder = (script, source) => !existsSync(script) || statSync(script).mtimeMs < statSync(source).mtimeMs;

function filesIn(folder, pattern) {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true }).filter((file) => pattern.test(file));
}
