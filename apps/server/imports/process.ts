import { importRows } from '#libs/actions/import/import-rows.js';
import { fileKinds } from '#libs/actions/kinds/registry.js';
import { openBook } from '#libs/store/book.js';
import type { ImportAnswer, ImportRequest } from './messages.js';

// Takes one file for a server that forked it, and ends. Without its server it ends at once: what it has written then
// waits in the staging tables, and none of it is in the record.

for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => {});
process.on('disconnect', () => process.exit(0));
process.once('message', (request: ImportRequest) => {
  void taken(request).then(
    (imported) => tell({ imported }),
    (fault: unknown) => tell({ failed: (fault as Error).stack ?? String(fault) }),
  );
});

async function taken({ location, context, plural, bytes, options }: ImportRequest) {
  const kind = fileKinds.find((each) => each.plural === plural);
  if (!kind) throw new Error(`There are no files of ${plural}`);
  const book = await openBook(location);
  try {
    return await importRows(book, context, kind, bytes, options);
  } finally {
    await book.close();
  }
}

const tell = (answer: ImportAnswer): void => void process.send?.(answer, () => process.exit(0));
