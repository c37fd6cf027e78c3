import { Controller, Get, Param, Post } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { acceptJarReport, dismissJarReport } from '#libs/actions/jars/jar-reports.js';
import { CustomerReportPage } from '#pages/returns/report.js';
import { RequireRole } from '../../http/access.js';
import { redirect, pageOr } from '../../http/responses.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { type Principal, CurrentPrincipal, readerOf } from '../../http/principal.js';
import { customerReportPage } from './customer-report-page.js';

/** Customers' reports about jars, before they are in the record: a maker records one, or sets it aside. */
@Controller('returns/reports')
export class CustomerReportsController {
  @Get(':id')
  @RequireRole(rights.complaint)
  async show(@CurrentPrincipal() principal: Principal, @Param('id') id: string) {
    return pageOr(CustomerReportPage, await customerReportPage(principal, id));
  }

  @Post(':id/take')
  @RequireRole(rights.complaint)
  async take(@CurrentPrincipal() principal: Principal, @Param('id') id: string) {
    const done = await acceptJarReport(principal.book, principal.writeContext, id);
    if ('problem' in done) return done;
    const { lot = '' } = (await findRecord(readerOf(principal), 'complaint', done.id)) ?? {};
    // What it says may hold the lot: its page asks the question that opens it.
    const isHeld = (await findLot(readerOf(principal), lot))?.state === 'held';
    return redirect(
      isHeld ? `/lots/${encodeURIComponent(lot)}#findings` : `/records/complaint/${encodeURIComponent(done.id)}`,
      [`Saved ${done.id}. Look at the jar, then record what was done.`, ...done.notes],
    );
  }

  @Post(':id/set-aside')
  @RequireRole(rights.complaint)
  async setAside(@CurrentPrincipal() principal: Principal, @Param('id') id: string) {
    const done = await dismissJarReport(principal.book, principal.writeContext, id);
    return 'problem' in done ? done : redirect('/', ['The report was set aside: it is not in the record.']);
  }
}
