import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

/** Shown for a jar code that no house of this book has. */
export const JarUnknownPage = ({ page }: PageProps) => (
  <Layout page={page} title="No such jar">
    <h1>No jar of this sugarhouse has this code</h1>
    <p>
      Look at the code on the label once more: eight letters and digits, and never I, L, O or U. The lot code beside it
      tells the maker as much.
    </p>
  </Layout>
);
