/** SQLite found pages of the file that cannot be right: the disk, or a hand, changed them. */
export const isDamage = (fault: unknown): boolean =>
  /SQLITE_(CORRUPT|NOTADB)|database disk image is malformed|file is not a database|malformed database schema/i.test(
    String((fault as Error | null)?.message ?? ''),
  );
