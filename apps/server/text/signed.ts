import type { Entry } from '#libs/records/entry.js';
import { fromJarPage } from '#libs/actions/jars/jar-reports.js';

export interface Signed {
  /** The initials of who did it. */
  readonly by: string;
  /** Who entered it, if that was somebody else: a person, or a script's key by its name. */
  readonly enteredBy: string | undefined;
}

/**
 * Who is responsible for an entry and who entered it. Initials typed in a record are those of its first version;
 * additions and corrections are signed by their own writers.
 */
export function signedOf(entry: Entry): Signed {
  const isFirst = entry.entryType === 'record' || entry.entryType === 'act';
  const by = (isFirst ? entry.record?.typed['by'] : undefined) ?? entry.by;
  // These authors are not people: `by` holds who sent the file, and a customer's report has no author.
  const entered = entry.author === 'import' ? entry.by : entry.author === fromJarPage ? by : entry.author;
  return { by, enteredBy: entered.toLowerCase() === by.toLowerCase() ? undefined : entered };
}
