import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { PhoneLink } from './phone-link.js';

export interface JarUnknownPageProps {
  /** The telephone of the sugarhouse that the page names; blank where none is recorded. */
  readonly phone: string;
}

/** Shown for a jar code that no house in this book has. */
export const JarUnknownPage = ({ phone, page }: JarUnknownPageProps & PageProps) => (
  <Layout page={page} title="No such jar">
    <h1>No jar of this sugarhouse has this code</h1>
    <p>Check the code on the label: eight letters and digits, never I, L, O or U.</p>
    {phone ? (
      <p>
        Or call {page.house.name || 'the maker'}, <PhoneLink phone={phone} />, and say the lot code on the label.
      </p>
    ) : (
      <p>Or ask the maker named on the label, and say the lot code beside it.</p>
    )}
  </Layout>
);
