import { type Sourced, sourceText } from '#libs/syrup/rules/provenance.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface CautionsPageProps {
  readonly title: string;
  readonly here: string;
  readonly groups: readonly {
    readonly title: string;
    readonly cautions: readonly (Sourced & { readonly text: string })[];
  }[];
  readonly asks: readonly string[];
}

/** The usual cautions by the place of work, each with its source. */
export const CautionsPage = ({ title, here, groups, asks, page }: CautionsPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>Cautions</h1>
    <p class="now">
      Local codes and licensed practice come first. Boilbook keeps a record; it doesn’t make a food safe.
    </p>
    <div class="side-by-side">
      {groups.map((group) => (
        <section>
          <h2>{group.title}</h2>
          <ul>
            {group.cautions.map((caution) => (
              <li>
                {caution.text} <span class="source">{sourceText(caution)}</span>
              </li>
            ))}
          </ul>
        </section>
      ))}
      <section>
        <h2>Whom to ask</h2>
        <ul>
          {asks.map((office) => (
            <li>{office}</li>
          ))}
        </ul>
      </section>
    </div>
  </Layout>
);
