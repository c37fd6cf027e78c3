import type { LotState } from '#libs/records/entry.js';
import type { PageProps } from '../page-context.js';
import { type Fact, FactList } from '../parts/fact-list.js';
import { More, type Paged } from '../parts/more.js';
import { type LotLink, LotLinks } from './lot-links.js';

export interface JarsAndLabelsProps extends PageProps {
  readonly code: string;
  readonly balance: readonly Fact[];
  /** The jars retained for comparison; blank where there are none. */
  readonly retained: string;
  readonly labels: readonly string[];
}

/** Where the jars are, and how many labels were printed for them. */
export const JarsAndLabels = ({ code, balance, retained, labels, page }: JarsAndLabelsProps) => (
  <details class="more">
    <summary>Jars and labels</summary>
    <FactList facts={[...balance, ['retained samples', retained || 'none yet']]} />
    <h2>Labels on jars</h2>
    {labels.map((label, n) => (
      <p class={n > 0 ? 'soft' : undefined}>{label}</p>
    ))}
    {page.may('helper') && (
      <p>
        <a href={`/lots/${code}/labels/spoiled`}>Record spoiled labels</a>
      </p>
    )}
  </details>
);

export interface SyrupFlowsProps {
  readonly from: Paged<LotLink>;
  readonly pouredInto: Paged<LotLink>;
}

/** The lots that the syrup comes from, and those that jars were poured back into. */
export const SyrupFlows = ({ from, pouredInto }: SyrupFlowsProps) => (
  <details class="more" open={from.before !== '' || pouredInto.before !== ''}>
    <summary>Syrup from{pouredInto.count > 0 ? ' and poured into' : ''}</summary>
    <p id="from">
      Syrup from: <LotLinks lots={from.rows} />
    </p>
    <More {...from} />
    {pouredInto.count > 0 && (
      <p id="into">
        Poured back into: <LotLinks lots={pouredInto.rows} />
      </p>
    )}
    <More {...pouredInto} />
  </details>
);

export interface SignaturesProps extends PageProps {
  readonly code: string;
  readonly state: LotState;
  readonly signatures: readonly string[];
}

/** Who filled, released and verified it, and a link to the reasons for its state. */
export const Signatures = ({ code, state, signatures, page }: SignaturesProps) => (
  <details class="more">
    <summary id="signed">Who filled, released and verified it</summary>
    <ul>
      {signatures.map((signature) => (
        <li>{signature}</li>
      ))}
    </ul>
    <p>
      <a href={`/lots/${code}/why`}>{state === 'open' ? 'Rules checked' : `Why is it ${state}?`}</a>
      {page.may('helper') && (
        <>
          {' '}
          &ensp; <a href={`/lots/${code}/verify`}>Verify it</a>
        </>
      )}
    </p>
  </details>
);
