import type { BulkRules, PlaceRules } from '#libs/syrup/labelling/places.js';
import { sourceText } from '#libs/syrup/rules/provenance.js';

export interface PlaceRulesViewProps {
  readonly place: PlaceRules;
  /** The offices that the house recorded itself. */
  readonly ownAuthorities?: readonly string[];
}

type RulesOfPlace = Pick<PlaceRulesViewProps, 'place'>;

/** The limits of a place, each number with its source. */
export const PlaceRulesView = ({ place, ownAuthorities = [] }: PlaceRulesViewProps) => (
  <>
    <p class="now">{place.standard}</p>
    {place.fellBack && <p class="why">{place.fellBack}</p>}
    <h2>Density</h2>
    <Limits place={place} />
    {place.chart && <HydrometerChart chart={place.chart} />}
    <h2>What a label carries</h2>
    <ul>
      {place.labels.map((label) => (
        <li>
          {label.item} <span class="source">{sourceText(label)}</span>
        </li>
      ))}
    </ul>
    {place.applies && place.applies.length > 0 && <Licences applies={place.applies} />}
    <h2>Whom to ask</h2>
    <Offices place={place} ownAuthorities={ownAuthorities} />
    {place.notFound.length > 0 && (
      <>
        <h2>Not found in any source</h2>
        <ul>
          {place.notFound.map((topic) => (
            <li>{topic}</li>
          ))}
        </ul>
      </>
    )}
  </>
);

const BulkRulesView = ({ bulk }: { readonly bulk: BulkRules }) => (
  <>
    <dt>Containers over {bulk.aboveMillilitres / 1000} L</dt>
    <dd>
      <b>
        {bulk.minimumBrix.value} to {bulk.maximumBrix.value} °Bx
      </b>{' '}
      <span class="source">{sourceText(bulk.minimumBrix)}</span>; lead at most {bulk.lead.ppb} ppb{' '}
      <span class="source">{sourceText(bulk.lead)}</span>
    </dd>
  </>
);

/** The limits of density and lead, and the version of the rules. */
const Limits = ({ place }: RulesOfPlace) => (
  <dl class="facts">
    <dt>Least</dt>
    <dd>
      <b>{place.minimumBrix.value} °Bx</b> ({place.minimumBrix.baume} °Bé)
      {!place.minimumBrix.gates && ': an advisory only, until the authority confirms it'}{' '}
      <span class="source">{sourceText(place.minimumBrix)}</span>
    </dd>
    {place.standInMinimumBrix && (
      <>
        <dt>Used until then</dt>
        <dd>
          <b>{place.standInMinimumBrix.value} °Bx</b> <span class="source">{sourceText(place.standInMinimumBrix)}</span>
        </dd>
      </>
    )}
    <dt>Most</dt>
    <dd>
      {place.maximumBrix ? (
        <>
          <b>{place.maximumBrix.value} °Bx</b> ({place.maximumBrix.baume} °Bé)
          {!place.maximumBrix.gates && ': an advisory only'} <span class="source">{sourceText(place.maximumBrix)}</span>
        </>
      ) : (
        'none found'
      )}
    </dd>
    {place.bulk && <BulkRulesView bulk={place.bulk} />}
    {place.lead && (
      <>
        <dt>Lead, from</dt>
        <dd>
          <b>{place.lead.ppb} ppb</b> <span class="source">{sourceText(place.lead)}</span>
        </dd>
      </>
    )}
    <dt>Rules</dt>
    <dd>{place.rulesVersion}</dd>
  </dl>
);

const HydrometerChart = ({ chart }: { readonly chart: NonNullable<PlaceRules['chart']> }) => (
  <details class="more">
    <summary>Hydrometer chart used here</summary>
    <p class="source">{sourceText(chart)}</p>
    <table>
      <thead>
        <tr>
          <th class="n" scope="col">
            Syrup at
          </th>
          <th class="n" scope="col">
            The hydrometer reads
          </th>
        </tr>
      </thead>
      <tbody>
        {chart.rows.map((row) => (
          <tr>
            <td class="n">{row.fahrenheit} °F</td>
            <td class="n">{row.brix} °Bx</td>
          </tr>
        ))}
      </tbody>
    </table>
  </details>
);

/** Licences, registration and the thresholds from which they are needed. */
const Licences = ({ applies }: { readonly applies: NonNullable<PlaceRules['applies']> }) => (
  <>
    <h2>Licences, registration, thresholds</h2>
    <p>
      <a href="/calculators/what-applies">What applies to me?</a>
    </p>
    <ul>
      {applies.map((rule) => (
        <li>
          <b>{rule.topic}.</b> {rule.says} <span class="source">{sourceText(rule)}</span>
        </li>
      ))}
    </ul>
  </>
);

const Offices = ({ place, ownAuthorities }: Required<PlaceRulesViewProps>) => (
  <ul>
    {ownAuthorities.map((office) => (
      <li>{office}</li>
    ))}
    {place.authority.map((office) => (
      <li>
        <b>{office.name}</b>: {office.ask}
      </li>
    ))}
  </ul>
);
