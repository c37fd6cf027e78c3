import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

interface TermsPageProps {
  readonly terms: readonly { readonly name: string; readonly meaning: string; readonly type: string }[];
}

/** What each name under `boilbook:` in EPCIS events means. */
export const TermsPage = ({ terms, page }: TermsPageProps & PageProps) => (
  <Layout page={page} title="Terms in EPCIS events" here="">
    <h1>Terms in EPCIS events</h1>
    <p>
      A season as EPCIS 2.0 events has some fields that the standard doesn’t name. They begin with{' '}
      <span class="code">boilbook:</span> and mean this. With <span class="code">Accept: application/ld+json</span> this
      address answers with the same as JSON-LD.
    </p>
    <dl class="facts">
      {terms.map(({ name, meaning, type }) => (
        <>
          <dt id={name}>
            <span class="code">{name}</span>
          </dt>
          <dd>
            {meaning} ({type})
          </dd>
        </>
      ))}
    </dl>
  </Layout>
);
