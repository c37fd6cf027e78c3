import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { LotHeader } from '../parts/lot-header.js';
import { LotHistory } from '../parts/lot-history.js';
import { More, type Paged } from '../parts/more.js';
import { type NextAction, NextActionButton } from '../parts/next-action.js';
import { Readings, type ReadingView } from '../parts/readings.js';
import type { LotLink } from './lot-links.js';
import type { LotProps } from './lot-props.js';

export interface SapProps {
  readonly sentence: string;
  /** The trees or the supplier. */
  readonly from: string | undefined;
  readonly readings: readonly ReadingView[];
  readonly into: Paged<LotLink>;
  /** Some of it is left. */
  readonly hasSapLeft: boolean;
  readonly next: NextAction | undefined;
  /** The page that corrects its record. */
  readonly correct: string;
}

/** A gathering or a purchase: how much there was, how much is left, and where it went. */
export const SapPage = ({ page, ...lot }: LotProps & SapProps & PageProps) => (
  <Layout page={page} title={lot.title} here="boils" wide>
    <div class="lot-top">
      <div>
        <LotHeader {...lot} back={{ href: '/sap', text: 'Sap' }} />
        <p>{lot.from}</p>
        <NextActionButton next={lot.next} page={page} />
      </div>
      <div>
        <Readings readings={lot.readings} />
        {lot.hasSapLeft && page.may('helper') && (
          <p class="small">
            <a href={`/lots/${lot.code}/disposal`}>Used or discarded</a>
          </p>
        )}
        {page.may('maker') && (
          <p>
            <a class="quiet" href={lot.correct}>
              Correct
            </a>
          </p>
        )}
        {lot.into.count > 0 && (
          <>
            <h2 id="into">Went into</h2>
            <ul class="lots">
              {lot.into.rows.map((row) => (
                <li>
                  <a class="row" href={`/lots/${row.code}`}>
                    <span class="code">{row.code}</span>
                    <span class="grow">{row.typed}</span>
                  </a>
                </li>
              ))}
            </ul>
          </>
        )}
        <More {...lot.into} />
      </div>
    </div>
    <LotHistory {...lot} page={page} />
  </Layout>
);
