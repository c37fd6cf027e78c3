import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { count } from './count.js';

export interface RestoreProps {
  readonly name: string;
  readonly madeAt: string;
  readonly entries: number;
  readonly root: string;
  /** Entries of the open book; undefined where it can't be read. */
  readonly today: number | undefined;
  readonly difference:
    | {
        readonly removed: number;
        readonly added: number;
        readonly last: readonly {
          readonly entry: number;
          readonly by: string;
          readonly when: string;
          readonly what: string;
        }[];
        /** Held or recalled now and not in the backup; undefined where the backup can't tell. */
        readonly noLongerStopped: readonly { readonly code: string; readonly state: string }[] | undefined;
      }
    | undefined;
  readonly fault: string | undefined;
}

/** What restoring a backup would change, and the form that does it. */
export const RestorePage = ({ page, ...backup }: RestoreProps & PageProps) => (
  <Layout page={page} title="Restore a backup">
    <p class="crumb">
      <a href="/backups">← Backups</a>
    </p>
    {backup.fault !== undefined && (
      <div class="summary" role="alert" tabindex={-1} id="summary">
        <h2>Not restored yet</h2>
        <ul>
          <li>
            <a href="#f-sure">{backup.fault}</a>
          </li>
        </ul>
      </div>
    )}
    <h1>Restore the backup of {backup.madeAt}?</h1>
    <p class="now">
      <span class="code address">{backup.name}</span>: {count(backup.entries)}, verified.
    </p>
    <h2>What would change</h2>
    <Difference {...backup} />
    <ul>
      <li>Today’s book is kept as a copy beside it, and can be restored from the same list.</li>
      <li>
        Who may sign in, passwords, keys and guest links go back to what they were then. You may have to sign in again.
      </li>
      <li>Entries waiting on a phone are sent once the server is back.</li>
      <li>The server restarts: for some seconds no page opens. Ask others to finish their entries first.</li>
    </ul>
    <form method="post" action={`/backups/${encodeURIComponent(backup.name)}/restore`}>
      <input type="hidden" name="_once" value={page.once} />
      <input type="hidden" name="root" value={backup.root} />
      <label class="tick">
        <input type="checkbox" id="f-sure" name="sure" value="yes" />
        <span>I have read what would change</span>
      </label>
      <button class="main-action stopping">Restore this backup</button>
    </form>
  </Layout>
);

const Difference = ({ difference, today }: RestoreProps) => {
  if (!difference)
    return <p>Today’s book can’t be read as it is, so nothing can be compared. It is kept as it is, as a copy.</p>;
  const { removed, added, last, noLongerStopped } = difference;
  return (
    <>
      {(noLongerStopped === undefined || noLongerStopped.length > 0) && (
        <p class="caution" role="alert">
          {noLongerStopped === undefined ? (
            'Which lots would no longer be held or recalled can’t be read from this backup.'
          ) : (
            <>
              <b>Would no longer be stopped:</b>{' '}
              {noLongerStopped.map(({ code, state }) => `${code} (${state})`).join(', ')}. Write down why each was
              stopped, keep its jars apart, and record it again after the restore.
            </>
          )}
        </p>
      )}
      <p>
        {removed === 0
          ? `No entry of today’s book${today === undefined ? '' : ` (${today})`} would be removed.`
          : `${count(removed)} of today’s book would be removed${removed > last.length ? `; the last ${last.length} of them` : ''}:`}
      </p>
      {last.length > 0 && (
        <ol class="entry-list">
          {last.map((line) => (
            <li>
              <span class="when">
                <b>{line.when}</b>
                {line.by}
              </span>
              <div class="what">
                <p>
                  {line.what} <span class="soft">entry {line.entry}</span>
                </p>
              </div>
            </li>
          ))}
        </ol>
      )}
      {added > 0 && (
        <p class="caution">
          <b>{count(added)} of the backup are not in today’s book:</b> the two have different histories since then.
        </p>
      )}
    </>
  );
};
