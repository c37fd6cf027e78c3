import { fork } from 'node:child_process';
import { existsSync } from 'node:fs';
import { setPriority } from 'node:os';
import { fileURLToPath } from 'node:url';
import { type Imported, importRows, type ImportOptions } from '#libs/actions/import/import-rows.js';
import type { Kind } from '#libs/actions/record/kind.js';
import type { WriteContext } from '#libs/actions/record/write-context.js';
import type { Book } from '#libs/store/book.js';
import type { ImportAnswer, ImportRequest } from './messages.js';

/** Smaller files are imported in this process: starting one costs more than their fifty or so rows. */
const smallBytes = 4096;
const heapMebibytes = 768;
const niceness = 10;
/** One file at a time, whoever sends them: each needs a copy of the book. */
let previousImport: Promise<unknown> = Promise.resolve();
const script = fileURLToPath(new URL('./process.js', import.meta.url));

/**
 * Like `importRows`, in a process of its own with a lower priority: reading and judging a long file takes minutes of
 * processor time, during which the server could answer no page. Tests run the sources, where no process is built, and
 * import in this one.
 */
export function importInProcess(
  book: Book,
  context: WriteContext,
  kind: Kind,
  bytes: Uint8Array,
  options: ImportOptions = {},
): Promise<Imported> {
  if (bytes.length <= smallBytes || !existsSync(script)) return importRows(book, context, kind, bytes, options);
  const request = { location: book.location, context, plural: kind.plural, bytes, options };
  const result = previousImport.then(() => importInChild(request));
  previousImport = result.catch(() => undefined);
  return result;
}

function importInChild(request: ImportRequest): Promise<Imported> {
  const child = fork(script, [], {
    execArgv: [`--max-old-space-size=${heapMebibytes}`, '--enable-source-maps'],
    serialization: 'advanced',
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  try {
    if (child.pid !== undefined) setPriority(child.pid, niceness);
  } catch {
    // A system without priorities runs it at the same priority.
  }
  return new Promise((resolve, reject) => {
    child.once('message', (answer: ImportAnswer) => {
      if ('imported' in answer) resolve(answer.imported);
      else reject(new Error(answer.failed));
    });
    child.once('error', reject);
    child.once('exit', (status, signal) =>
      reject(new Error(`The import process ended with ${status ?? signal}; nothing of it was written`)),
    );
    child.send(request, (fault) => fault && reject(fault));
  });
}
