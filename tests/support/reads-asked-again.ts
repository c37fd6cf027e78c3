/**
 * While it runs, each answer that a write already knows is asked of the book again, and the write fails where they differ
 * (`libs/store/connection/read-cache.ts`). Not for the whole suite: it writes waiting rows earlier than a write does.
 */
export async function withReadsAskedAgain<T>(work: () => Promise<T>): Promise<T> {
  const before = process.env['BOILBOOK_TEST_READS'];
  process.env['BOILBOOK_TEST_READS'] = 'asked-again';
  try {
    return await work();
  } finally {
    if (before === undefined) delete process.env['BOILBOOK_TEST_READS'];
    else process.env['BOILBOOK_TEST_READS'] = before;
  }
}
