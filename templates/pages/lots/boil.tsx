import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { ComplaintList } from '../parts/complaint-list.js';
import { type Caution, Cautions } from '../parts/cautions.js';
import { FoldedFindings } from '../parts/findings.js';
import { LotHeader } from '../parts/lot-header.js';
import { LotHistory } from '../parts/lot-history.js';
import { More, type Paged } from '../parts/more.js';
import { type NextAction, NextActionButton } from '../parts/next-action.js';
import { Readings, type ReadingView } from '../parts/readings.js';
import { BoilLog, type LogButton } from './boil-log.js';
import { BoilProgress, type BoilProgressView } from './boil-progress.js';
import { HotCup, type HotCupView } from './hot-cup.js';
import { LotActions } from './lot-actions.js';
import { type LotLink, LotLinks } from './lot-links.js';
import type { LotProps } from './lot-props.js';

export interface BoilProps {
  readonly sentence: string;
  /** When its rest or boil began. */
  readonly restedFrom: string | undefined;
  readonly began: string | undefined;
  readonly readings: readonly ReadingView[];
  readonly underway: boolean;
  /** Neither sap nor syrup left in the pans is recorded as its source, nor how much sap was boiled. */
  readonly isWithoutSap: boolean;
  /** While it boils. */
  readonly progress: BoilProgressView | undefined;
  /** The newest sample in the cup, while it boils. */
  readonly cup: HotCupView | undefined;
  readonly taps: readonly LogButton[];
  readonly buttons: readonly LogButton[];
  /** There is syrup of it left. */
  readonly mayPack: boolean;
  readonly next: NextAction | undefined;
  readonly inputs: Paged<LotLink & { readonly kind: string }>;
  readonly into: Paged<LotLink>;
  readonly cautions: readonly Caution[];
}

/** A boil: its last readings, today's finishing temperature, and the buttons of its log. */
export const BoilPage = ({ page, ...lot }: LotProps & BoilProps & PageProps) => {
  const writes = page.may('helper');
  return (
    <Layout page={page} title={lot.title} here="boils" wide>
      <div class="lot-top">
        <div>
          <LotHeader {...lot} back={{ href: '/boils', text: 'Boils' }} />
          <NextActionButton next={lot.next} page={page} />
          {lot.isWithoutSap && (
            <p class="why">
              No sap is recorded for this boil. {writes && <a href={`/boils/${lot.code}/log/sap`}>Add the sap.</a>}
            </p>
          )}
          {lot.progress && <BoilProgress code={lot.code} progress={lot.progress} page={page} />}
          {lot.cup && <HotCup code={lot.code} cup={lot.cup} writes={writes} />}
        </div>
        <div>
          <Readings readings={lot.readings} />
          {writes && <BoilLog {...lot} page={page} />}
          {writes && lot.mayPack && !lot.next?.href?.startsWith('/packs/begin') && (
            <p>
              <a class="quiet" href={`/packs/begin?from=${lot.code}`}>
                Pack this syrup
              </a>
            </p>
          )}
          <FoldedFindings page={page} findings={lot.findings} state={lot.state} />
          <Flows inputs={lot.inputs} into={lot.into} />
          {lot.complaints.length > 0 && (
            <>
              <h2>Returned jars and complaints</h2>
              <ComplaintList complaints={lot.complaints} />
            </>
          )}
        </div>
      </div>
      <LotHistory {...lot} addPhoto={undefined} page={page} />
      <Cautions cautions={lot.cautions} />
      <p class="small">
        <a href={`/lots/${lot.code}/why`}>{lot.state === 'open' ? 'Rules checked' : `Why is it ${lot.state}?`}</a>{' '}
        &ensp;
        <a href={`/lots/${lot.code}/tags/vessel.pdf`}>Vessel card, PDF</a>
        {lot.mayPack && writes && (
          <>
            {' '}
            &ensp;<a href={`/lots/${lot.code}/disposal`}>Used or discarded</a>
          </>
        )}
        {lot.underway && (
          <>
            {' '}
            &ensp;<a href="/calculators/thickening">Thickening</a>
          </>
        )}
      </p>
      <LotActions {...lot} kind="boil" page={page} />
    </Layout>
  );
};

/** What went into the boil, and what its syrup went into. */
const Flows = ({ inputs, into }: Pick<BoilProps, 'inputs' | 'into'>) => (
  <>
    {inputs.count > 0 && (
      <p id="inputs">
        Went in:{' '}
        <LotLinks
          lots={inputs.rows.map(({ code, typed, kind }) => ({
            code,
            typed: `${typed || 'all of it'}${kind === 'carried' ? ' (left in the pans)' : ''}`,
          }))}
        />
      </p>
    )}
    <More {...inputs} />
    {into.count > 0 && (
      <p id="into">
        Went into: <LotLinks lots={into.rows} />
      </p>
    )}
    <More {...into} />
  </>
);
