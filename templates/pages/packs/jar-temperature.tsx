import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import type { FieldView } from '../parts/field-view.js';
import { Field } from '../parts/field.js';
import { type ProblemView, Summary } from '../parts/summary.js';

interface JarTemperatureAnswer {
  readonly reading: string;
  readonly passes: boolean;
  readonly sentences: readonly string[];
  readonly sources: readonly string[];
}

export interface JarTemperaturePageProps {
  readonly title: string;
  readonly here: string;
  readonly code: string;
  readonly known: string;
  readonly answer: JarTemperatureAnswer | undefined;
  readonly summary: ProblemView | undefined;
  readonly views: readonly FieldView[];
}

/** Estimates a jar's temperature from the syrup, the glass and its weight; saves nothing. */
export const JarTemperaturePage = ({
  title,
  here,
  code,
  known,
  answer,
  summary,
  views,
  page,
}: JarTemperaturePageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href={`/lots/${code}#fill`}>
        ← <span class="code">{code}</span>
      </a>
    </p>
    <h1>How hot will the jar be?</h1>
    <p class="now">{known}</p>
    {answer && (
      <div role="status">
        <p class={`judged ${answer.passes ? 'passes' : 'stops'}`}>
          <span class="reading thumb">{answer.reading}</span>{' '}
          <span class={`verdict ${answer.passes ? 'passes' : 'stops'}`}>
            {answer.passes ? 'hot enough' : 'TOO COLD'}
          </span>
          <span class="limit">calculated, not read: it is not recorded</span>
        </p>
        {answer.sentences.map((sentence) => (
          <p>{sentence}</p>
        ))}
      </div>
    )}
    <Summary problem={summary} />
    <form method="get" action={`/packs/${code}/jar`} novalidate>
      {views.map((field) => (
        <Field {...field} />
      ))}
      <button class="main-action">Calculate</button>
    </form>
    {answer && answer.sources.map((source) => <span class="source">{source}</span>)}
  </Layout>
);
