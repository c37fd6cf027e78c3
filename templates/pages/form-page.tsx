import { Layout } from './layout.js';
import type { PageProps } from './page-context.js';
import { Cautions, type Caution } from './parts/cautions.js';
import { Form, type FormView } from './parts/form.js';

interface PageLink {
  readonly href: string;
  readonly text: string;
}

export interface FormPageProps {
  readonly title: string;
  readonly here: string;
  /** Back to where the form belongs. */
  readonly crumb?: PageLink;
  readonly sentence?: string | undefined;
  readonly notes?: readonly string[] | undefined;
  readonly cautions?: readonly Caution[] | undefined;
  readonly form: FormView;
  /** Another way to the same, below the form. */
  readonly otherwise?: PageLink | undefined;
}

/** A page that is one form. */
export const FormPage = ({
  title,
  here,
  crumb,
  sentence,
  notes = [],
  cautions,
  form,
  otherwise,
  page,
}: FormPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    {crumb && (
      <p class="crumb">
        <a href={crumb.href}>← {crumb.text}</a>
      </p>
    )}
    <h1>{title}</h1>
    {sentence && <p class="now">{sentence}</p>}
    {notes.map((each) => (
      <p>{each}</p>
    ))}
    <Cautions cautions={cautions} />
    <Form page={page} {...form} />
    {otherwise && (
      <p>
        <a href={otherwise.href}>{otherwise.text}</a>
      </p>
    )}
  </Layout>
);
