import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

/** Shown for a jar code that no house in this book has. */
export const JarUnknownPage = ({ page }: PageProps) => (
  <Layout page={page} title="No such jar">
    <h1>No jar of this sugarhouse has this code</h1>
    <p>
      Check the code on the label: eight letters and digits, never I, L, O or U. If you call the maker, the lot code
      beside it is enough.
    </p>
  </Layout>
);
