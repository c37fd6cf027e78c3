import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

/** Who is signed in here, with the buttons to sign out. */
export const AccountPage = ({ page }: PageProps) => (
  <Layout page={page} title="You" here="">
    <h1>{page.principal?.initials}</h1>
    <p class="now">
      Signed in as {page.principal?.role}.{' '}
      {page.may('helper')
        ? 'Your initials are shown next to your entries.'
        : 'You can read the records, but not change them.'}
    </p>
    <form method="post" action="/sign-out">
      <input type="hidden" name="_once" value={page.once} />
      <button class="quiet">{page.practice ? 'Leave the practice book' : 'Sign out'}</button>
    </form>
    {page.principal?.kind === 'person' && (
      <p>
        <a href="/account/password">Your password</a>
      </p>
    )}
    {!page.practice && page.may('helper') && (
      <form method="post" action="/practice">
        <p>
          An invented season for practice and demonstrations. To return to your own book, leave practice and sign in
          again.
        </p>
        <button class="quiet">Open the practice book</button>
      </form>
    )}
    <p>
      <a href="/trust">Trust this house’s certificate, on each device</a>
    </p>
    {page.may('owner') && (
      <p>
        <a href="/people">People, keys and guests’ links</a>
      </p>
    )}
  </Layout>
);
