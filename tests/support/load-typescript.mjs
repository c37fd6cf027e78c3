// Node loader hooks: run the TypeScript of tests and program straight from their sources.
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import swc from '@swc/core';
import { swcOptions } from '../../apps/transpile.mjs';
import compiledPlaces from './compiled-place.cjs';

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const folders = { '#libs/': 'libs', '#pages/': 'templates/pages' };

export function resolve(specifier, context, next) {
  if (specifier === '@jest/globals')
    return { url: new URL('./jest-globals.mjs', import.meta.url).href, shortCircuit: true };
  const source = sourceOf(specifier, context.parentURL);
  return source ? { url: source, format: 'module', shortCircuit: true } : next(specifier, context);
}

/** The program is imported by its compiled name, `.js`. */
function sourceOf(specifier, parentURL) {
  if (!specifier.endsWith('.js')) return undefined;
  const prefix = Object.keys(folders).find((each) => specifier.startsWith(each));
  const script = prefix
    ? pathToFileURL(join(root, folders[prefix], specifier.slice(prefix.length))).href
    : /^\.{1,2}\//.test(specifier) && parentURL && !parentURL.includes('/node_modules/')
      ? new URL(specifier, parentURL).href
      : undefined;
  return script && ['.ts', '.tsx'].map((ending) => script.replace(/\.js$/, ending)).find(isThere);
}

const isThere = (url) => existsSync(fileURLToPath(url));

export function load(url, context, next) {
  if (!/^file:.*\.tsx?(\?|$)/.test(url)) return next(url, context);
  return { format: 'module', source: compiled(fileURLToPath(url)), shortCircuit: true };
}

/** Compiled once per content of a file; many workers may do so at the same time. */
function compiled(file) {
  const text = readFileSync(file, 'utf8');
  const place = compiledPlaces.compiledPlace(file, text);
  if (existsSync(place)) return readFileSync(place, 'utf8');
  const { code, map } = swc.transformSync(text, { ...swcOptions(file), filename: file, sourceMaps: true });
  written(`${place}.map`, map);
  written(place, code);
  return code;
}

function written(place, text) {
  writeFileSync(`${place}.${process.pid}`, text);
  renameSync(`${place}.${process.pid}`, place);
}
