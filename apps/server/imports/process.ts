import { importRows } from '#libs/actions/import/import-rows.js';
import { fileKinds } from '#libs/actions/kinds/registry.js';
import { openBook } from '#libs/store/book.js';
import type { ImportAnswer, ImportRequest } from './messages.js';

// Imports one file for the server that forked it, then exits. Without its server it exits at once: the rows it has read
// are then still in the staging tables, and none of them is in the record.

for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => {});
process.on('disconnect', () => process.exit(0));
process.once('message', (request: ImportRequest) => {
  void importFile(request).then(
    (imported) => send({ imported }),
    (fault: unknown) => send({ failed: (fault as Error).stack ?? String(fault) }),
  );
});

async function importFile({ location, context, plural, bytes, options }: ImportRequest) {
  const kind = fileKinds.find((each) => each.plural === plural);
  if (!kind) throw new Error(`There are no files of ${plural}`);
  const book = await openBook(location);
  try {
    return await importRows(book, context, kind, bytes, options);
  } finally {
    await book.close();
  }
}

const send = (answer: ImportAnswer): void => void process.send?.(answer, () => process.exit(0));
