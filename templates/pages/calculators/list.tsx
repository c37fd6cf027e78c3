import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface CalculatorListPageProps {
  readonly title: string;
  readonly here: string;
  readonly calculators: readonly { readonly name: string; readonly title: string }[];
}

/** The calculators to choose from. */
export const CalculatorListPage = ({ title, here, calculators, page }: CalculatorListPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>Calculators</h1>
    <p class="now">For questions at the pan and the bench. Nothing here is saved.</p>
    <ul class="lots side-by-side">
      {calculators.map((calculator) => (
        <li>
          <a class="row" href={`/calculators/${calculator.name}`}>
            <span class="grow">
              <b>{calculator.title}</b>
            </span>
          </a>
        </li>
      ))}
    </ul>
  </Layout>
);
