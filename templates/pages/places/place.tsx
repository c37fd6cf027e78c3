import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { PlaceRulesView } from '../parts/place.js';

export interface PlacePageProps {
  readonly title: string;
  readonly here: string;
  readonly place: PlaceRules;
}

/** The rules of one place with their sources. */
export const PlacePage = ({ title, here, place, page }: PlacePageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <p class="crumb">
      <a href="/places">← Places and rules</a>
    </p>
    <h1>{place.name}</h1>
    <PlaceRulesView place={place} />
  </Layout>
);
