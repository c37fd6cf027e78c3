import { Layout } from '../layout.js';
import { count } from '../backups/count.js';
import type { PageProps } from '../page-context.js';
import { Readings } from '../parts/readings.js';

export interface HistoryPageProps {
  readonly title: string;
  readonly here: string;
  readonly head: { readonly entries: number; readonly root: string };
  readonly verified?: { readonly ok: boolean; readonly entries: number; readonly firstDifference?: string } | undefined;
  /** It was compared with the root on a printed page. */
  readonly isCompared?: boolean;
}

/** The record log's length and root, and the result of verifying it. */
export const HistoryPage = ({ title, here, head, verified, isCompared, page }: HistoryPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <h1>Record log</h1>
    <p class="now">
      Nothing here is overwritten. All entries are hashed into one root; the root printed on a page covers every entry
      before it.
    </p>
    <Readings readings={[{ reading: String(head.entries), limit: 'entries' }]} />
    <p>Root</p>
    <code class="root">{head.root}</code>
    <p class="soft">It proves that nobody has changed an entry since, not that the entry was true.</p>
    {verified && (
      <div class={verified.ok ? 'noted' : 'why'} role="status">
        <p>
          {verified.ok ? (
            <>
              <span class="verdict passes">no entry was changed</span> {count(verified.entries)} checked
              {isCompared ? ', and they match the printed page' : ''}.
            </>
          ) : (
            <>
              <span class="verdict stops">IT DIFFERS</span> {verified.firstDifference}
            </>
          )}
        </p>
      </div>
    )}
    {page.wholeBook && (
      <>
        <h2>Check it</h2>
        <form method="post" action="/history/verify" novalidate>
          <input type="hidden" name="_once" value={page.once} />
          <details class="more">
            <summary>Compare with a printed page</summary>
            <div class="field">
              <label for="f-root">Root on the page</label>
              <input id="f-root" name="root" autocomplete="off" />
            </div>
            <div class="field">
              <label for="f-entries">Entries on the page</label>
              <input class="brief" id="f-entries" name="entries" inputmode="numeric" autocomplete="off" />
            </div>
          </details>
          <button class="main-action">Verify all entries</button>
        </form>
      </>
    )}
    {page.may('maker') && (
      <>
        <h2>Mock recall</h2>
        <p>
          Draw a jar at random, trace it back to its sap and forward to the other jars of its lot, and count the jars.
          Nothing is recalled; the result is recorded. At least once a year: common practice.
        </p>
        <p>
          <a class="quiet" href="/recall/mock">
            Mock recall
          </a>
        </p>
      </>
    )}
  </Layout>
);
