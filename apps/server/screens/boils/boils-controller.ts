import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { boils, boilsUnderway } from '#libs/actions/kinds/boil.js';
import { BoilListPage } from '#pages/boils/list.js';
import { FormPage } from '#pages/form-page.js';
import { desktopFile } from '../../desktop/desktop-table.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { boilsTable } from './boils-table.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage, redirectToSaved, pageOr } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { boilsPage } from './boil-list.js';
import { startBoilPage, finishedBoilPage } from './boil-pages.js';
import { logPage } from './log-pages.js';
import { appendBoilLine } from './append-boil-line.js';

@Controller('boils')
export class BoilsController {
  @Get()
  async list(@CurrentPrincipal() principal: Principal, @Query() query: Posted) {
    if (firstText(query['as']) === 'csv') return desktopFile(await boilsTable(principal, query), query);
    return htmlPage(BoilListPage, await boilsPage(principal, query));
  }

  @Get('begin')
  @RequireRole(rights['boil underway'])
  async startForm(@CurrentPrincipal() principal: Principal, @Query('same') same?: string) {
    return htmlPage(FormPage, await startBoilPage(principal, { same: same === '1' }));
  }

  @Post('begin')
  @RequireRole(rights['boil underway'])
  async start(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const answer = await writeRecord(principal, boilsUnderway, posted);
    if (!('problem' in answer)) return redirectToSaved(`/lots/${answer.id}`, answer, { kind: 'boil' });
    return htmlPage(FormPage, await startBoilPage(principal, { posted, ...answer }), statusFor(answer.problem));
  }

  @Get('finished')
  @RequireRole(rights.boil)
  async finishedForm(@CurrentPrincipal() principal: Principal, @Query('same') same?: string) {
    return htmlPage(FormPage, await finishedBoilPage(principal, { same: same === '1' }));
  }

  @Post('finished')
  @RequireRole(rights.boil, { takes: 'photo-form' })
  async saveFinished(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const answer = await writeRecord(principal, boils, posted);
    if (!('problem' in answer)) return redirectToSaved(`/lots/${answer.id}`, answer, { kind: 'boil' });
    return htmlPage(FormPage, await finishedBoilPage(principal, { posted, ...answer }), statusFor(answer.problem));
  }

  @Get(':code/log/:what')
  @RequireRole(rights['boil underway'])
  async logForm(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Param('what') what: string,
    @Query('same') same?: string,
  ) {
    return pageOr(FormPage, await logPage(principal, code, what, { same: same === '1' }));
  }

  @Post(':code/log/:what')
  @RequireRole(rights['boil underway'], { takes: 'photo-form' })
  async appendToLog(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Param('what') what: string,
    @Body() posted: Posted,
  ) {
    const answer = await appendBoilLine(principal, code, what, posted);
    // A tap on another lot's page leads back to it.
    const back = firstText(posted['back']);
    const shownAt = what === 'cup' ? 'cup' : 'finish';
    if (!('problem' in answer))
      return redirectToSaved(back ? `/lots/${encodeURIComponent(back)}` : `/lots/${code}#${shownAt}`, answer, {
        kind: 'line',
      });
    return pageOr(FormPage, await logPage(principal, code, what, { posted, ...answer }), statusFor(answer.problem));
  }
}
