import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import type { FieldView } from '../parts/field-view.js';
import { Field } from '../parts/field.js';
import { Summary, type ProblemView } from '../parts/summary.js';

export type FigureRow = Readonly<Record<string, string | number>>;

interface CalculatorAnswer {
  readonly asks: readonly string[];
  readonly points: readonly { readonly topic: string; readonly says: string; readonly source: string }[];
  readonly notFound: readonly string[];
  readonly sentences: readonly string[];
  readonly sources: readonly string[];
  readonly figures: readonly { readonly text: string; readonly value: string }[];
  /** Tables of figures, a row per step. */
  readonly rows: readonly (readonly FigureRow[])[];
}

export interface CalculatorPageProps {
  readonly title: string;
  readonly here: string;
  readonly answer: CalculatorAnswer | undefined;
  readonly summary: ProblemView | undefined;
  readonly name: string;
  readonly views: readonly FieldView[];
}

/** One calculator: its boxes, its result and the sources for it. */
export const CalculatorPage = ({
  title,
  here,
  answer,
  summary,
  name,
  views,
  page,
}: CalculatorPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href="/calculators">← Calculators</a>
    </p>
    <h1>{title}</h1>
    {answer && <Answer answer={answer} />}
    <Summary problem={summary} />
    <form method="get" action={`/calculators/${name}`} novalidate>
      {views.map((field) => (
        <Field {...field} />
      ))}
      <button class="main-action">Calculate</button>
    </form>
  </Layout>
);

const FigureTable = ({ rows }: { readonly rows: readonly FigureRow[] }) => {
  const [first] = rows;
  if (!first) return null;
  return (
    <div class="scroll" tabindex={0}>
      <table>
        <thead>
          <tr>
            {Object.keys(first).map((heading) => (
              <th scope="col">{heading}</th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr>
              {Object.values(row).map((value) => (
                <td>{typeof value === 'number' ? Math.round(value * 100) / 100 : value}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
};

/** The result, whom to ask, and what was read and not found in the sources. */
const Answer = ({ answer }: { readonly answer: CalculatorAnswer }) => (
  <>
    <div class="noted" role="status">
      {answer.sentences.map((sentence) => (
        <p class="answer">{sentence}</p>
      ))}
    </div>
    {answer.asks.length > 0 && (
      <>
        <h2>Whom to ask</h2>
        <ul>
          {answer.asks.map((office) => (
            <li>{office}</li>
          ))}
        </ul>
      </>
    )}
    {answer.points.length > 0 && (
      <>
        <h2>What was read</h2>
        <dl class="facts">
          {answer.points.map((point) => (
            <>
              <dt>{point.topic}</dt>
              <dd>
                {point.says} <span class="source">{point.source}</span>
              </dd>
            </>
          ))}
        </dl>
      </>
    )}
    {answer.notFound.length > 0 && (
      <>
        <h2>What was not found</h2>
        <ul>
          {answer.notFound.map((topic) => (
            <li>{topic}</li>
          ))}
        </ul>
      </>
    )}
    {answer.points.length === 0 && <Figures answer={answer} />}
  </>
);

/** The sources of a calculation and its steps. */
const Figures = ({ answer }: { readonly answer: CalculatorAnswer }) => (
  <>
    {answer.sources.map((source) => (
      <span class="source">{source}</span>
    ))}
    <details class="more">
      <summary>Figures</summary>
      <dl class="facts">
        {answer.figures.map((figure) => (
          <>
            <dt>{figure.text}</dt>
            <dd>
              <b>{figure.value}</b>
            </dd>
          </>
        ))}
      </dl>
      {answer.rows.map((rows) => (
        <FigureTable rows={rows} />
      ))}
    </details>
  </>
);
