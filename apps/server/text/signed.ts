import type { Entry } from '#libs/records/entry.js';
import { fromJarPage } from '#libs/actions/lots/jar-reports.js';

export interface Signed {
  /** The initials of who did it. */
  readonly by: string;
  /** Who entered it, where that was somebody else: a person, or a script's key by its name. */
  readonly enteredBy: string | undefined;
}

/**
 * Who is responsible for an entry and who entered it. Initials typed in a record are of the record as it was first
 * written; what is added or corrected later is signed by who did that.
 */
export function signedOf(entry: Entry): Signed {
  const isFirst = entry.entryType === 'record' || entry.entryType === 'act';
  const by = (isFirst ? entry.record?.typed['by'] : undefined) ?? entry.by;
  // These authors are not people: who sent the file is in `by`, and a customer's report has no author.
  const entered = entry.author === 'import' ? entry.by : entry.author === fromJarPage ? by : entry.author;
  return { by, enteredBy: entered.toLowerCase() === by.toLowerCase() ? undefined : entered };
}
