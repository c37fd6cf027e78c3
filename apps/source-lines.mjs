// Stacks name the lines of the TypeScript. `node --import` takes it in place of --enable-source-maps, which reads the
// map of each file of each package as it is loaded, half a second at a start; here only what a stack names is looked up.
import { existsSync, readFileSync } from 'node:fs';
import { SourceMap } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const ours = join(dirname(dirname(fileURLToPath(import.meta.url))), 'dist');
const maps = new Map();

Error.prepareStackTrace = (fault, calls) => {
  let head;
  try {
    head = String(fault);
  } catch {
    head = 'Error';
  }
  return [head, ...calls.map((call) => `    at ${inSource(call)}`)].join('\n');
};

/** A line of a stack as it is, or with the place in the source in it where there is one. */
function inSource(call) {
  const text = String(call);
  const url = call.getFileName() ?? '';
  const file = url.startsWith('file:') ? fileURLToPath(url) : url;
  if (!file.startsWith(ours)) return text;
  const entry = mapOf(file)?.findEntry((call.getLineNumber() ?? 1) - 1, (call.getColumnNumber() ?? 1) - 1);
  if (entry?.originalSource === undefined) return text;
  const source = resolve(dirname(file), entry.originalSource);
  return text.replace(
    /(?:file:\/\/)?\/[^()]*:\d+:\d+/,
    `${source}:${entry.originalLine + 1}:${entry.originalColumn + 1}`,
  );
}

function mapOf(file) {
  if (!maps.has(file)) {
    const place = `${file}.map`;
    maps.set(file, existsSync(place) ? new SourceMap(JSON.parse(readFileSync(place, 'utf8'))) : undefined);
  }
  return maps.get(file);
}
