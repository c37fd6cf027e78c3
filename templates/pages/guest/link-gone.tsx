import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

/** Shown for a guest link that has ended or never existed. */
export const LinkGonePage = ({ page }: PageProps) => (
  <Layout page={page} title="This link does not work">
    <h1>This link no longer works</h1>
    <p>It expired, was ended, or was used on this device before. Ask the sugarhouse for a new one.</p>
  </Layout>
);
