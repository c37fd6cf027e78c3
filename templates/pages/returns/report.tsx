import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

export interface CustomerReportPageProps {
  readonly title: string;
  readonly here: string;
  readonly id: string;
  readonly jar: string;
  readonly lot: string;
  readonly said: string;
  /** How to reach the customer; blank where they gave nothing. */
  readonly reach: string;
  readonly when: string;
  /** It mentions mould, spoilage or the seal. */
  readonly warns: boolean;
  /** Neither accepted nor set aside yet. */
  readonly waits: boolean;
}

/** A customer's report about a jar, before it is in the record. */
export const CustomerReportPage = ({ page, ...report }: CustomerReportPageProps & PageProps) => (
  <Layout page={page} title={report.title} here={report.here}>
    <p class="crumb">
      <a href="/">← Today</a>
    </p>
    <h1>
      A report of jar <span class="code">{report.jar}</span>
    </h1>
    <p class="now">Somebody with the jar wrote this {report.when}. It is not in the record yet.</p>
    {report.warns && (
      <p class="why" role="alert">
        It may be about mould, spoilage or the seal. Inspect the jar and others of{' '}
        <a href={`/lots/${encodeURIComponent(report.lot)}`}>{report.lot}</a> before more is sent out. If you record it,
        the lot is held until somebody answers whether it has spoiled.
      </p>
    )}
    <dl class="facts">
      <dt>What was said</dt>
      <dd>{report.said}</dd>
      {report.reach && (
        <>
          <dt>How to reach them</dt>
          <dd>{report.reach}</dd>
        </>
      )}
      <dt>Jar</dt>
      <dd>
        <a href={`/jars/${report.jar}`}>{report.jar}</a>
      </dd>
      <dt>Lot</dt>
      <dd>
        <a href={`/lots/${encodeURIComponent(report.lot)}`}>{report.lot}</a>
      </dd>
    </dl>
    {report.waits ? (
      <>
        <form method="post" action={`/returns/reports/${report.id}/take`}>
          <input type="hidden" name="_once" value={page.once} />
          <button class="main-action">Record it as a complaint</button>
        </form>
        <form method="post" action={`/returns/reports/${report.id}/set-aside`}>
          <input type="hidden" name="_once" value={page.once} />
          <button class="quiet">Set it aside</button>
        </form>
        <p class="hint">A report that you set aside is not recorded, and is deleted after a month.</p>
      </>
    ) : (
      <p>Somebody has already dealt with this report.</p>
    )}
  </Layout>
);
