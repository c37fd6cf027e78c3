import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { ReportPage } from '#pages/public-jar-page/report.js';
import { ReportedPage } from '#pages/public-jar-page/reported.js';
import { Public } from '../../http/access.js';
import { htmlPage, redirect } from '../../http/responses.js';
import { type Principal, CurrentPrincipal } from '../../http/principal.js';
import { storeReport } from './customer-report.js';
import { type FoundJar, findTypedJar } from './found-jar.js';
import { unknownJar } from './unknown-jar.js';

/** A customer reports a problem with a jar. The page shows nothing of other reports or jars. */
@Controller()
export class ReportController {
  @Get(['j/:code/report', 'J/:code/report'])
  @Public({ anyHost: true })
  async form(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    const found = await findTypedJar(principal, code);
    return found ? htmlPage(ReportPage, await reportForm(principal, found)) : unknownJar(principal);
  }

  @Post(['j/:code/report', 'J/:code/report'])
  @Public({ costs: 15, anyHost: true })
  async send(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Body() sent: Record<string, unknown>,
  ) {
    const found = await findTypedJar(principal, code);
    if (!found) return unknownJar(principal);
    const outcome = await storeReport(principal, found, sent);
    if (outcome === 'taken') return redirect(`/j/${found.jar.code}/reported`);
    return htmlPage(
      ReportPage,
      { ...(await reportForm(principal, found)), ...outcome },
      outcome.fault === 'full' ? 429 : 422,
    );
  }

  @Get(['j/:code/reported', 'J/:code/reported'])
  @Public({ anyHost: true })
  async thanks(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    const found = await findTypedJar(principal, code);
    return found
      ? htmlPage(ReportedPage, { ...(await reportForm(principal, found)), title: 'Your report was sent to the makers' })
      : unknownJar(principal);
  }
}

/** The report goes to the jar's own house, which may not be the first of the book. */
async function reportForm(principal: Principal, { book, jar }: FoundJar) {
  const { house } = await loadSugarhouseContext(book.read, { ...principal.writeContext, sugarhouse: jar.sugarhouse });
  const phone = house?.phone ?? '';
  return { title: 'Something is wrong with this jar', code: jar.code, phone, said: '', reach: '' };
}
