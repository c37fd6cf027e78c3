import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { ConnectionLost } from '../parts/connection-lost.js';

export interface GuestPageProps {
  readonly name: string;
  readonly endsAt: string;
  readonly token: string;
}

/** The button by which a guest link is opened on this device. */
export const GuestPage = ({ name, endsAt, token, page }: GuestPageProps & PageProps) => (
  <Layout page={page} title="Open the book">
    <h1>Open the records to read</h1>
    <p>
      This link was made for <b>{name}</b>. It opens the records of this sugarhouse on this device, read-only, until{' '}
      <time datetime={endsAt}>{endsAt.slice(0, 10)}</time>.
    </p>
    <ConnectionLost page={page} />
    <form method="post" action={`/guest/${token}`}>
      <button class="main-action">Open it on this device</button>
    </form>
  </Layout>
);
