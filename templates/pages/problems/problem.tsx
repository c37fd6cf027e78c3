import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface ProblemPageProps {
  readonly title: string;
  /** What went wrong and what to do, a sentence each. */
  readonly sentences: readonly string[];
  /** The HTTP status: it decides what the page may say about whether the form was saved. */
  readonly status: number;
  /** A form or file was sent; otherwise a page was only opened. */
  readonly wasSent: boolean;
}

/** A refused request: what went wrong, and a link to continue. */
export const ProblemPage = ({ title, sentences, status, wasSent, page }: ProblemPageProps & PageProps) => (
  <Layout page={page} title={title} unsaved>
    <h1>{title}</h1>
    <div class="why">
      {sentences.map((sentence) => (
        <p>{sentence}</p>
      ))}
    </div>
    <NextSteps status={status} wasSent={wasSent} />
  </Layout>
);

const NextSteps = ({ status, wasSent }: Pick<ProblemPageProps, 'status' | 'wasSent'>) => {
  // There is no such page, lot or jar: nothing was sent that could have been saved.
  if (status === 404)
    return (
      <p>
        Look for it in <a href="/find">Find</a>, or go back to <a href="/">Today</a>.
      </p>
    );
  // After a bug it is unknown whether it was saved.
  if (status === 500 || !wasSent)
    return (
      <p>
        Go to <a href="/">Today</a>.
      </p>
    );
  return (
    <p>
      Nothing was saved. What you typed is still on the page before this one. Or go to <a href="/">Today</a>.
    </p>
  );
};
