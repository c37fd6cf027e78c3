import { findRecord } from '#libs/store/queries/lots.js';
import { lotsUpstream } from '#libs/store/queries/trace.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A note that somebody wrote on a pack or boil. */
export interface NoteOnRecord {
  readonly lot: string;
  /** As it was typed, without white space around it. */
  readonly note: string;
  /** Initials. */
  readonly by: string;
}

/** The notes of a lot and of the packs and boils that its syrup came from, its own first; blank ones are left out. */
export async function loadNotesOnRecord(reader: SugarhouseReader, code: string): Promise<NoteOnRecord[]> {
  const notes: NoteOnRecord[] = [];
  for (const lot of await lotsUpstream(reader, code)) {
    if (lot.kind !== 'pack' && lot.kind !== 'boil') continue;
    const body = (await findRecord(reader, lot.kind, lot.code))?.body;
    const note = body?.note.trim();
    if (body && note) notes.push({ lot: lot.code, note, by: body.by });
  }
  return notes;
}
