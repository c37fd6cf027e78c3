import type { PageProps } from '../page-context.js';
import { More, type Paged } from '../parts/more.js';

export interface CloseSeasonProps extends PageProps {
  readonly year: number;
  readonly closed: ClosedView | null;
  readonly missingShown: Paged<{ readonly code: string | null; readonly words: string }>;
  readonly fault?: string | undefined;
}

/** Who signed the season, and what was recorded since. */
export interface ClosedView {
  readonly by: string;
  readonly when: string;
  /** `90 entries were recorded since, 88 about lots of this season: they are not signed.` */
  readonly notSigned: string;
  /** Something about its lots was recorded since: the owner may sign again. */
  readonly isChanged: boolean;
}

/** What is still missing, and the form by which the owner signs the season. */
export const CloseSeason = ({ year, closed, missingShown, fault, page }: CloseSeasonProps) => (
  <>
    <h2>Closing the season</h2>
    {missingShown.count > 0 ? (
      <>
        <p id="missing">Still missing:</p>
        <ul>
          {missingShown.rows.map((item) => (
            <li>
              {item.code && (
                <>
                  <a class="code" href={`/lots/${item.code}`}>
                    {item.code}
                  </a>{' '}
                </>
              )}
              {item.words}
            </li>
          ))}
        </ul>
        <More {...missingShown} />
      </>
    ) : (
      <p>Nothing is missing.</p>
    )}
    {closed && <p>{closed.notSigned}</p>}
    {(!closed || closed.isChanged) && page.may('owner') && (
      <form method="post" action={`/season/${year}/close`} novalidate>
        <input type="hidden" name="_once" value={page.once} />
        {fault && (
          <div class="summary" role="alert" tabindex={-1} id="summary">
            <h2>Not saved: check the fields below</h2>
            <ul>
              <li>
                <a href="#f-signed">{fault}</a>
              </li>
            </ul>
          </div>
        )}
        <div class="field">
          <label for="f-signed">Signed by</label>
          <span class="hint" id="h-signed">
            Your name. What is still missing is recorded with it.
          </span>
          <input
            id="f-signed"
            name="signed"
            autocomplete="off"
            aria-describedby="h-signed"
            aria-invalid={fault ? true : undefined}
          />
        </div>
        <button class="main-action">{closed ? 'Sign it again' : 'Close the season'}</button>
      </form>
    )}
  </>
);
