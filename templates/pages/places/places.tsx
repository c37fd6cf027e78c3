import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { sourceText, type Provenance } from '#libs/syrup/rules/provenance.js';
import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { PlaceRulesView } from '../parts/place.js';

interface PlacesRule {
  readonly text: string;
  readonly stop: boolean;
  readonly says: string;
  readonly source: string;
  readonly mark: Provenance;
  readonly readOn?: string;
}

export interface PlacesPageProps {
  readonly title: string;
  readonly here: string;
  readonly own: PlaceRules;
  readonly places: readonly { readonly id: string; readonly name: string }[];
  readonly ownAuthorities: readonly string[];
  readonly rules: readonly PlacesRule[];
}

/** The places whose rules the program knows, the house's own first. */
export const PlacesPage = ({ title, here, own, places, ownAuthorities, rules, page }: PlacesPageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <h1>Places and rules</h1>
    <p>
      Rules that apply here: <b>{own.name}</b>.
    </p>
    <ul class="buttons">
      {places.map((place) => (
        <li>
          <a class="quiet" href={`/places/${place.id}`}>
            {place.name}
          </a>
        </li>
      ))}
    </ul>
    <PlaceRulesView place={own} ownAuthorities={ownAuthorities} />
    <h2>Hold rules and advisories for packs, everywhere</h2>
    <ul class="findings">
      {rules.map((rule) => (
        <li class={rule.stop ? 'stop' : 'advice'}>
          <h3>
            <span class={`verdict ${rule.stop ? 'stops' : 'advice'}`}>{rule.stop ? 'HOLD' : 'advisory'}</span>{' '}
            {rule.text}
          </h3>
          <p>
            {rule.says} <span class="source">{sourceText(rule)}</span>
          </p>
        </li>
      ))}
    </ul>
  </Layout>
);
