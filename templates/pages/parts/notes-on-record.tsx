/** A note of a pack or boil, as it was typed, with who wrote it. */
export interface NoteView {
  readonly lot: string;
  readonly note: string;
  readonly by: string;
}

/** Characters of notes that are shown without folding: some five lines on a phone. */
const mostUnfolded = 240;

/**
 * What makers noted on a pack and on what it came from, word by word, for whoever labels or sells its jars: rules find
 * only the words they know. Folded where it is long; nothing where there are no notes.
 */
export const NotesOnRecord = ({ notes = [] }: { readonly notes?: readonly NoteView[] | undefined }) => {
  if (notes.length === 0) return null;
  const list = (
    <ul class="lots notes-on-record">
      {notes.map(({ lot, note, by }) => (
        <li>
          <a class="code" href={`/lots/${encodeURIComponent(lot)}`}>
            {lot}
          </a>
          {by && (
            <>
              {', '}
              <span class="by">{by}</span>
            </>
          )}
          : <q>{note}</q>
        </li>
      ))}
    </ul>
  );
  const isLong = notes.length > 4 || notes.reduce((sum, { note }) => sum + note.length, 0) > mostUnfolded;
  return isLong ? (
    <details>
      <summary>
        <b>Notes on record</b> ({notes.length})
      </summary>
      {list}
    </details>
  ) : (
    <section>
      <h2>Notes on record</h2>
      {list}
    </section>
  );
};
