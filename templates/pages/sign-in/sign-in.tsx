import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { NoTlsWarning } from '../parts/no-tls-warning.js';
import { type FaultLine, Faults } from '../parts/faults.js';

export interface SignInPageProps {
  readonly faults: readonly FaultLine[];
  readonly back: string;
  readonly initials?: string | undefined;
  readonly houses: boolean;
  readonly houseTyped?: string | undefined;
}

/** Initials and a password, and the sugarhouse where the book has several. */
export const SignInPage = ({ faults, back, initials, houses, houseTyped, page }: SignInPageProps & PageProps) => (
  <Layout page={page} title="Sign in" unsaved>
    <h1>Sign in</h1>
    <Faults faults={faults} heading="Not signed in" />
    <NoTlsWarning page={page} />
    <form method="post" action="/sign-in">
      <input type="hidden" name="back" value={back} />
      <div class="field">
        <label for="f-initials">Your initials</label>
        <input
          id="f-initials"
          name="initials"
          value={initials ?? ''}
          autocomplete="username"
          autocapitalize="characters"
          spellcheck={false}
          required
        />
      </div>
      <div class="field">
        <label for="f-password">Password</label>
        <input id="f-password" name="password" type="password" autocomplete="current-password" required />
      </div>
      {houses && (
        <div class="field">
          <label for="f-house">Your sugarhouse</label>
          <span class="hint" id="f-house-hint">
            Its prefix, like BL. Leave blank for the sugarhouse that keeps this book.
          </span>
          <input
            id="f-house"
            name="house"
            value={houseTyped ?? ''}
            autocapitalize="characters"
            spellcheck={false}
            aria-describedby="f-house-hint"
          />
        </div>
      )}
      <button class="main-action">Sign in</button>
    </form>
  </Layout>
);
