import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { packs, packsUnderway } from '#libs/actions/kinds/pack.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import type { Recorded } from '#libs/actions/record/record.js';
import { FormPage } from '#pages/form-page.js';
import { JarTemperaturePage } from '#pages/packs/jar-temperature.js';
import { PackListPage } from '#pages/packs/list.js';
import { desktopFile } from '../../desktop/desktop-table.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { packsTable } from './packs-table.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { lotPage } from '../lots/lot-page.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage, redirectToSaved, pageOr } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { breakGlass, pourBack, postponeCheck } from './fill-events.js';
import { checkSeals, refuseUndatedSeals } from './check-seals.js';
import { fillJar } from './fill-jar.js';
import { jarTemperaturePage } from './jar-temperature-page.js';
import { packsPage } from './pack-list.js';
import { startPackPage, finishedPackPage } from './pack-pages.js';
import { stepPage } from './pack-steps.js';

@Controller('packs')
export class PacksController {
  @Get()
  async list(@CurrentPrincipal() principal: Principal, @Query() query: Posted) {
    if (firstText(query['as']) === 'csv') return desktopFile(await packsTable(principal, query), query);
    return htmlPage(PackListPage, await packsPage(principal, query));
  }

  @Get('begin')
  @RequireRole(rights['pack underway'])
  async startForm(
    @CurrentPrincipal() principal: Principal,
    @Query('from') from?: string,
    @Query('same') same?: string,
  ) {
    const posted = from ? { posted: { fromLots: from } } : {};
    return htmlPage(FormPage, await startPackPage(principal, { ...posted, same: same === '1' }));
  }

  @Post('begin')
  @RequireRole(rights['pack underway'])
  async start(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const answer = await writeRecord(principal, packsUnderway, posted);
    if (!('problem' in answer)) return redirectToSaved(`/lots/${answer.id}#fill`, answer, { kind: 'pack' });
    return htmlPage(FormPage, await startPackPage(principal, { posted, ...answer }), statusFor(answer.problem));
  }

  @Get('finished')
  @RequireRole(rights.pack)
  async finishedForm(@CurrentPrincipal() principal: Principal, @Query('same') same?: string) {
    return htmlPage(FormPage, await finishedPackPage(principal, { same: same === '1' }));
  }

  @Post('finished')
  @RequireRole(rights.pack, { takes: 'photo-form' })
  async saveFinished(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const answer = refuseUndatedSeals(posted) ?? (await writeRecord(principal, packs, posted));
    if (!('problem' in answer)) return redirectToSaved(`/lots/${answer.id}`, answer, { kind: 'pack' });
    return htmlPage(FormPage, await finishedPackPage(principal, { posted, ...answer }), statusFor(answer.problem));
  }

  @Post(':code/fill')
  @RequireRole(rights['pack underway'], { takes: 'photo-form' })
  async fill(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Body() posted: Posted) {
    return this.afterFill(principal, code, posted, await fillJar(principal, code, posted));
  }

  @Post(':code/poured-back')
  @RequireRole('helper')
  async pouredBack(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Body() posted: Posted) {
    return this.afterFill(principal, code, posted, await pourBack(principal, code, posted));
  }

  @Post(':code/broken-glass')
  @RequireRole('helper')
  async brokenGlass(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Body() posted: Posted) {
    return this.afterFill(principal, code, posted, await breakGlass(principal, code, posted));
  }

  @Post(':code/check-later')
  @RequireRole('helper')
  async checkLater(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Body() posted: Posted) {
    return this.afterFill(principal, code, posted, await postponeCheck(principal, code, posted));
  }

  @Get(':code/jar')
  async jar(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Query() query: Posted) {
    return pageOr(JarTemperaturePage, await jarTemperaturePage(principal, code, query));
  }

  @Get(':code/:step')
  @RequireRole(rights['pack underway'])
  async step(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Param('step') step: string,
    @Query('same') same?: string,
  ) {
    return pageOr(FormPage, await stepPage(principal, code, step, { same: same === '1' }));
  }

  @Post(':code/:step')
  @RequireRole(rights['pack underway'], { takes: 'photo-form' })
  async saveStep(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Param('step') step: string,
    @Body() posted: Posted,
  ) {
    const form = await stepPage(principal, code, step);
    if ('problem' in form) return form;
    const answer =
      step === 'seals'
        ? await checkSeals(principal, code, posted)
        : await writeRecord(principal, packsUnderway, posted, {}, { add: true, of: code });
    if (!('problem' in answer)) return redirectToSaved(`/lots/${code}`, answer, { kind: 'pack' });
    return pageOr(FormPage, await stepPage(principal, code, step, { posted, ...answer }), statusFor(answer.problem));
  }

  private async afterFill(principal: Principal, code: string, posted: Posted, answer: Recorded | Refusal) {
    if (!('problem' in answer)) return redirectToSaved(`/lots/${code}#fill`, answer, { kind: 'pack' });
    return lotPage(principal, code, { posted, ...answer });
  }
}
