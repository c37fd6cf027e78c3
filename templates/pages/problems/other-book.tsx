import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface OtherBookPageProps {
  readonly title: string;
  readonly detail: string;
  readonly typed: readonly { readonly label: string; readonly text: string }[];
  readonly steps: readonly string[];
  readonly again:
    | {
        readonly action: string;
        readonly fields: readonly (readonly [name: string, text: string])[];
      }
    | undefined;
  readonly isOldForm: boolean;
  readonly madeWhere: string | undefined;
  readonly here: string;
}

/** Shown before a form is saved that was made for another book, house or person. */
export const OtherBookPage = ({
  title,
  detail,
  typed,
  steps,
  again,
  isOldForm,
  madeWhere,
  here,
  page,
}: OtherBookPageProps & PageProps) => (
  <Layout page={page} title={title} unsaved>
    <h1>{title}</h1>
    <div class="why">
      <p>{detail}</p>
    </div>
    {typed.length > 0 && (
      <>
        <h2>What you typed</h2>
        <dl class="facts">
          {typed.map((each) => (
            <>
              <dt>{each.label}</dt>
              <dd>{each.text}</dd>
            </>
          ))}
        </dl>
      </>
    )}
    {steps.map((each) => (
      <p>{each}</p>
    ))}
    {again ? (
      <>
        <p>{isOldForm ? 'If it belongs here, save it here.' : 'Then come back to this page and send it again.'}</p>
        <form
          method="post"
          action={again.action}
          data-says-origin=""
          data-keep-now={madeWhere ? '' : undefined}
          data-where={madeWhere}
        >
          {again.fields.map(([name, text]) => (
            <input type="hidden" name={name} value={text} />
          ))}
          <button class="main-action">{isOldForm ? `Save it in ${here}` : 'Send it again'}</button>
        </form>
      </>
    ) : (
      <p>Open the form again and fill it in there.</p>
    )}
    <p>
      <a href="/">Today</a>
    </p>
  </Layout>
);
