import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';
import { ComplaintList } from '../parts/complaint-list.js';
import { type Caution, Cautions } from '../parts/cautions.js';
import type { Fact } from '../parts/fact-list.js';
import { FoldedFindings } from '../parts/findings.js';
import { LotHeader } from '../parts/lot-header.js';
import { LotHistory } from '../parts/lot-history.js';
import { NextActionButton } from '../parts/next-action.js';
import { Readings, type ReadingView } from '../parts/readings.js';
import { ReportsWaiting } from '../parts/reports-waiting.js';
import type { ProblemView } from '../parts/summary.js';
import { Swatch } from '../parts/swatch.js';
import type { FillFormView, FillView } from './fill-form-view.js';
import { FillSection } from './fill-section.js';
import { LotActions } from './lot-actions.js';
import type { LotProps } from './lot-props.js';
import { PackButtons, type PackButtonsProps } from './pack-buttons.js';
import { JarsAndLabels, Signatures, SyrupFlows, type SyrupFlowsProps } from './pack-records.js';

export interface PackProps extends Pick<PackButtonsProps, 'underway' | 'pending' | 'next'>, SyrupFlowsProps {
  readonly sentence: string;
  readonly fills: readonly FillView[];
  /** Present while jars are being filled, and when the last reading was refused. */
  readonly fillForm: FillFormView | undefined;
  readonly problem: ProblemView | undefined;
  readonly lastFill: string | undefined;
  /** The jars that no fill reading covers, in words. */
  readonly uncovered: string;
  /** Shown where jars whose seals failed count as on hand; the address records what became of them. */
  readonly failedSeals: { readonly sentence: string; readonly href: string | undefined } | undefined;
  /** Shown where syrup of a lot that counts as used up is perhaps left; the address corrects the amount. */
  readonly syrupLeft: { readonly sentence: string; readonly href: string | undefined } | undefined;
  readonly verdictOf: { readonly kind: string; readonly text: string };
  readonly readings: readonly ReadingView[];
  readonly container: string;
  readonly packed: string;
  readonly colour: { readonly fill: string; readonly text: string; readonly beside: string } | undefined;
  readonly balance: readonly Fact[] | undefined;
  readonly retained: string;
  readonly labels: readonly string[];
  readonly signatures: readonly string[];
  readonly isGone?: boolean;
  readonly cautions: readonly Caution[];
}

/** A pack: each fill temperature with its verdict, the density, the jars, and the next steps. */
export const PackPage = ({ page, ...lot }: LotProps & PackProps & PageProps) => {
  const writes = page.may('helper');
  return (
    <Layout page={page} title={lot.title} here="packs" wide>
      <div class="lot-top">
        <div>
          <LotHeader {...lot} back={{ href: '/packs', text: 'Packs' }} />
          <ReportsWaiting reports={lot.reports} page={page} />
          <NextActionButton next={lot.next} page={page} />
          {lot.fillForm && writes && <FillSection {...lot} fillForm={lot.fillForm} page={page} />}
        </div>
        <div>
          <Lead {...lot} />
          <Readings readings={lot.readings} />
          {lot.fills.length > 0 && <Fills fills={lot.fills} underway={lot.underway} />}
          {lot.uncovered && <p class="small">{lot.uncovered}</p>}
          {lot.failedSeals && (
            <p class="small">
              {lot.failedSeals.sentence} {lot.failedSeals.href && <a href={lot.failedSeals.href}>Record that</a>}
            </p>
          )}
          {lot.syrupLeft && (
            <p class="small">
              {lot.syrupLeft.sentence} {lot.syrupLeft.href && <a href={lot.syrupLeft.href}>Enter the amount</a>}
            </p>
          )}
          {writes && <PackButtons {...lot} page={page} />}
          <FoldedFindings page={page} findings={lot.findings} state={lot.state} />
        </div>
      </div>
      <LotHistory {...lot} addPhoto={undefined} page={page} />
      {lot.balance && <JarsAndLabels {...lot} balance={lot.balance} page={page} />}
      <SyrupFlows {...lot} />
      {lot.signatures.length > 0 && <Signatures {...lot} page={page} />}
      {lot.complaints.length > 0 && (
        <details class="more">
          <summary>Returned jars and complaints ({lot.complaints.length})</summary>
          <ComplaintList complaints={lot.complaints} />
        </details>
      )}
      <Cautions cautions={lot.cautions} />
      <p class="small">
        {lot.fillForm && (
          <>
            <a href={`/packs/${lot.code}/jar`}>How hot will the jar be?</a> &ensp;{' '}
            <a href={`/lots/${lot.code}/tags/tray.pdf`}>Tray card, PDF</a> &ensp;{' '}
          </>
        )}
        {((lot.state === 'held' && !lot.underway) || lot.state === 'recalled') && writes && (
          <>
            {' '}
            <a href={`/lots/${lot.code}/tags/hold.pdf`}>
              {lot.state === 'held' ? 'HELD' : 'RECALLED'} card for the lot, PDF
            </a>
          </>
        )}
      </p>
      <LotActions {...lot} kind="pack" page={page} />
    </Layout>
  );
};

/** Left out where the pack is held or recalled, since the stamp beside the code says so. */
const Lead = ({ verdictOf, container, packed, colour, stamp }: PackProps & Pick<LotProps, 'stamp'>) => (
  <p>
    {!stamp && (
      <>
        <span class={`verdict ${verdictOf.kind}`}>{verdictOf.text}</span> &ensp;
      </>
    )}
    {container}, packed {packed}
    {colour && (
      <>
        {' '}
        &ensp;
        <span class="whole">
          <Swatch fill={colour.fill} />
          {colour.text}
        </span>{' '}
        <span class="soft">{colour.beside}</span>
      </>
    )}
  </p>
);

const Fills = ({ fills, underway }: Pick<PackProps, 'fills' | 'underway'>) => (
  <ol class="fills" aria-label={underway ? 'Readings so far' : 'Temperatures in the jar'}>
    {fills.map((fill) => (
      <li class={fill.low || fill.whySuspect ? 'low' : fill.pouredBack ? 'poured' : undefined}>
        {fill.reading}
        {fill.low ? ' low' : fill.whySuspect ? ' held' : fill.pouredBack ? ' poured back' : ''}{' '}
        <small>{fill.beside}</small>
      </li>
    ))}
  </ol>
);
