import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { Form, type FormView } from '../parts/form.js';

export interface HousePageProps {
  readonly title: string;
  readonly here: string;
  readonly address: readonly string[];
  readonly form: FormView;
  /** The house has its own drawing for labels. */
  readonly logo: boolean;
  readonly places: readonly { readonly id: string; readonly name: string }[];
  readonly history: boolean;
}

/** The details of the sugarhouse, for editing. */
export const HousePage = ({ title, here, address, form, logo, places, history, page }: HousePageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <h1>The sugarhouse</h1>
    {address.map((sentence) => (
      <p class="soft">{sentence}</p>
    ))}
    {page.may('owner') ? (
      <Form page={page} {...form} />
    ) : (
      <dl class="facts">
        {form.groups.map((group) =>
          group.fields.map((field) => (
            <>
              <dt>{field.label}</dt>
              <dd>{field.typed || field.choices.find((c) => c.chosen)?.text || '–'}</dd>
            </>
          )),
        )}
      </dl>
    )}
    <h2>Your drawing on labels</h2>
    {logo ? (
      <figure class="label-shown">
        <img src="/house/logo.png" alt="Your drawing, as printed on labels" />
      </figure>
    ) : (
      <p class="soft">None yet: labels carry text only.</p>
    )}
    {page.may('owner') && (
      <p>
        <a href="/house/logo">{logo ? 'Change or remove it' : 'Add a drawing or logo'}</a>
      </p>
    )}
    {page.may('owner') && (
      <p>
        <a href="/house/story-photo">Photo for the jar’s story</a>
      </p>
    )}
    <p>
      Places with rules of their own:{' '}
      {places.map((place) => (
        <>
          <a href={`/places/${place.id}`}>{place.name}</a> &ensp;
        </>
      ))}
    </p>
    {history && (
      <p>
        <a href="/records/house/house">Earlier values</a>
      </p>
    )}
  </Layout>
);
