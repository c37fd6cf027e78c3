import type { PageProps } from '../page-context.js';

export interface SessionRow {
  readonly session: string;
  readonly initials: string;
  readonly role: string;
  readonly device: string;
  readonly seen: string;
  /** The device that the page is shown on. */
  readonly own: boolean;
}

/** The devices that are signed in. */
export const SessionsSection = ({ sessions, page }: PageProps & { readonly sessions: readonly SessionRow[] }) => (
  <>
    <h2>Signed in now</h2>
    <ol class="entry-list">
      {sessions.map((session) => (
        <li>
          <span class="when">
            <b>{session.initials}</b>
            {session.role}
          </span>
          <div class="what">
            <p>
              {session.device}, last seen {session.seen}
              {session.own && (
                <>
                  {' '}
                  <span class="soft">(here)</span>
                </>
              )}
            </p>
            {!session.own && (
              <form method="post" action="/people/sessions/end">
                <input type="hidden" name="_once" value={page.once} />
                <input type="hidden" name="session" value={session.session} />
                <button class="quiet">
                  Sign out there
                  <span class="unseen">
                    : {session.initials}, {session.device}
                  </span>
                </button>
              </form>
            )}
          </div>
        </li>
      ))}
    </ol>
  </>
);
