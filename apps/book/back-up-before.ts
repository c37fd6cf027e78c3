import { join } from 'node:path';
import type { BookSettings } from '#libs/actions/book-settings.js';
import { backUpFile } from '#libs/records/backup.js';

/** Before a book is migrated or its index rebuilt, it is saved beside the others. */
export async function backUpBefore(settings: BookSettings, now: Date): Promise<void> {
  if (!('file' in settings.keeping)) return;
  const stamp = now.toISOString().replace(/[:.]/g, '-');
  await backUpFile(settings.keeping.file, join(settings.folder, 'backups', `before-update-${stamp}.sqlite`));
}
