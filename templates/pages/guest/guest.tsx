import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { NoTlsWarning } from '../parts/no-tls-warning.js';

export interface GuestPageProps {
  readonly name: string;
  readonly endsAt: string;
  readonly token: string;
}

/** `2026-12-03` as `3 Dec 2026` */
const plainDay = (moment: string): string =>
  new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' }).format(
    new Date(`${moment.slice(0, 10)}T00:00Z`),
  );

/** The page of a guest link, with the button that signs in on this device. */
export const GuestPage = ({ name, endsAt, token, page }: GuestPageProps & PageProps) => (
  <Layout page={page} title="Open the book">
    <h1>Open the records to read</h1>
    <p>
      This link was made for <b>{name}</b>. It opens the records of this sugarhouse on this device, read-only, until{' '}
      <time datetime={endsAt}>{plainDay(endsAt)}</time>.
    </p>
    <NoTlsWarning page={page} />
    <form method="post" action={`/guest/${token}`}>
      <button class="main-action">Open it on this device</button>
    </form>
  </Layout>
);
