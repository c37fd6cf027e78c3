/** Whether a write failed because the disk is full, by the errors of SQLite, PostgreSQL and the file system. */
export const isNoSpace = (fault: unknown): boolean =>
  /SQLITE_FULL|ENOSPC|No space left|disk is full/i.test(String((fault as Error | null)?.message));
