import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { CodeSearch } from '../parts/code-search.js';

export interface ReturnStartPageProps {
  readonly title: string;
  readonly here: string;
  readonly nothingFound: boolean;
  readonly typed: string;
}

/** Asks which jar was returned. */
export const ReturnStartPage = ({ title, here, nothingFound, typed, page }: ReturnStartPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href="/find">← Find</a>
    </p>
    <h1>A customer returns a bad jar</h1>
    <p class="now">Enter the code on its label or take a photo of it. Don’t taste the contents.</p>
    {nothingFound && (
      <p class="why" role="alert">
        No jar or pack found for <b>{typed}</b>. A jar code has eight letters; if the label is torn, enter the lot code.
      </p>
    )}
    <CodeSearch
      camera={page.isPrivateConnection}
      action="/returns"
      label="Jar, or its lot"
      hint={
        <>
          Like <span class="code whole">K7QM-3XWT</span> or <span class="code whole">26077A-1</span>
        </>
      }
      typed={typed}
      submitLabel="Continue"
    />
    {page.mayWrite('dispatch') && (
      <p>
        <a href="/dispatches/new?kind=returned">Unsold jars, without a complaint?</a>
      </p>
    )}
  </Layout>
);
