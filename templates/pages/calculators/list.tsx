import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface CalculatorListPageProps {
  readonly title: string;
  readonly here: string;
  readonly questions: readonly { readonly name: string; readonly title: string }[];
}

/** The calculators to choose from. */
export const CalculatorListPage = ({ title, here, questions, page }: CalculatorListPageProps & PageProps) => (
  <Layout page={page} title={title} here={here} wide>
    <h1>Calculators</h1>
    <p class="now">For questions at the pan and the bench. Nothing here is saved.</p>
    <ul class="lots side-by-side">
      {questions.map((question) => (
        <li>
          <a class="row" href={`/calculators/${question.name}`}>
            <span class="grow">
              <b>{question.title}</b>
            </span>
          </a>
        </li>
      ))}
    </ul>
  </Layout>
);
