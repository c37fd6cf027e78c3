// Makes stack traces name TypeScript lines. Used by `node --import` in place of --enable-source-maps, which reads the
// map of every file of every package as it is loaded, half a second at each start; here only files in a trace are
// looked up.
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

/** A line of a stack trace, with its place in the source where there is one. */
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
