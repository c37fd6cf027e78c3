import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import { momentIn } from '#libs/actions/record/times.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findJarReport } from '#libs/store/household/jar-reports.js';
import { formContext } from '../../forms/form-view.js';
import type { Principal } from '../../http/principal.js';
import { momentText } from '../../text/times.js';
import { warnsOfSpoilage } from './reports-waiting.js';

/** A report that waits for a maker, with its jar and lot. */
export async function customerReportPage(principal: Principal, id: string) {
  const report = await findJarReport(sugarhouseReader(principal.book.read, principal.writeContext.sugarhouse), id);
  if (!report) return unknown('report', id) satisfies Refusal;
  const { parseOptions } = await formContext(principal);
  const now = momentIn(parseOptions.zone, principal.writeContext.now);
  return {
    title: `A report of jar ${report.jar}`,
    here: 'today',
    id,
    jar: report.jar,
    lot: report.lot,
    said: report.said,
    reach: report.reach,
    when: momentText(momentIn(parseOptions.zone, new Date(report.sentAt)), now),
    warns: warnsOfSpoilage(report),
    waits: report.state === 'waiting',
  };
}
