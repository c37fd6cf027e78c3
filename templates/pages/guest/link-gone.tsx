import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

/** Shown for a guest link that has ended or never existed. */
export const LinkGonePage = ({ page }: PageProps) => (
  <Layout page={page} title="This link does not work">
    <h1>This link no longer works</h1>
    <p>It has expired, was ended, or was already used on this device. Ask the sugarhouse for a new one.</p>
  </Layout>
);
