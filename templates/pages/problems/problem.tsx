import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface ProblemPageProps {
  readonly title: string;
  /** What went wrong and what to do, a sentence each. */
  readonly sentences: readonly string[];
  /** There is no such page, lot or jar: nothing was sent that could have been saved. */
  readonly isNotFound: boolean;
}

/** A refused request: what went wrong, and a link to continue. */
export const ProblemPage = ({ title, sentences, isNotFound, page }: ProblemPageProps & PageProps) => (
  <Layout page={page} title={title} unsaved>
    <h1>{title}</h1>
    <div class="why">
      {sentences.map((sentence) => (
        <p>{sentence}</p>
      ))}
    </div>
    {isNotFound ? (
      <p>
        Look for it in <a href="/find">Find</a>, or go back to <a href="/">Today</a>.
      </p>
    ) : (
      <p>
        Nothing was saved. Go back a page and correct it: what you typed is still there. Or go to <a href="/">Today</a>.
      </p>
    )}
  </Layout>
);
