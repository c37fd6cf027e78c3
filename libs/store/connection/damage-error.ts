/** Whether SQLite reported damaged pages in the file, changed by the disk or by somebody. */
export const isDamage = (fault: unknown): boolean =>
  /SQLITE_(CORRUPT|NOTADB)|database disk image is malformed|file is not a database|malformed database schema/i.test(
    String((fault as Error | null)?.message ?? ''),
  );
