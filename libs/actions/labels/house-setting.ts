import type { Book } from '#libs/store/book.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findNote, saveNote } from '#libs/store/household/household.js';
import type { WriteContext } from '../record/write-context.js';

type House = Pick<WriteContext, 'sugarhouse'>;

/**
 * Saves settings of the sugarhouse by name, all in one write; an empty text removes one. Settings aren't part of the
 * log.
 */
export async function saveSettings(
  book: Book,
  { sugarhouse }: House,
  settings: Readonly<Record<string, string>>,
): Promise<void> {
  await book.writeHousehold(async (sql) => {
    for (const [name, text] of Object.entries(settings)) await saveNote({ sql, sugarhouse }, name, text);
  });
}

/** A setting that was saved as JSON; undefined where it was never saved or was removed. */
export async function readSetting<T>(reader: SugarhouseReader, name: string): Promise<T | undefined> {
  const text = await findNote(reader, name);
  return text ? (JSON.parse(text) as T) : undefined;
}
