import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { actions } from '#libs/actions/kinds/corrective-action.js';
import { answers } from '#libs/actions/kinds/answer.js';
import { verifications } from '#libs/actions/kinds/verification.js';
import { findLot } from '#libs/store/queries/lots.js';
import { FormPage } from '#pages/form-page.js';
import { WhyPage } from '#pages/lots/why.js';
import type { Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { mayWrite } from '../../http/may-write.js';
import { htmlPage, redirect, pageOr } from '../../http/responses.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';
import { withActionAsDone } from './action-offers.js';
import { awaitsRelease } from './next-action.js';
import { correctiveActionPage } from './corrective-action-page.js';
import { verifyPage, whyPage } from './why-page.js';
import { lotPage } from './lot-page.js';

@Controller('lots/:code')
export class LotsController {
  @Get()
  async show(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Query() query: Posted) {
    return lotPage(principal, code, {}, query);
  }

  @Get('why')
  async why(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    return pageOr(WhyPage, await whyPage(principal, code));
  }

  @Get('verify')
  @RequireRole(rights.verification)
  async verifyForm(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    return htmlPage(FormPage, await verifyPage(principal, code));
  }

  @Post('verify')
  @RequireRole(rights.verification)
  async saveVerification(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Body() posted: Posted,
  ) {
    const answer = await writeRecord(principal, verifications, posted, { lot: code });
    if ('problem' in answer)
      return htmlPage(FormPage, await verifyPage(principal, code, { posted, ...answer }), statusFor(answer.problem));
    return redirect(`/lots/${code}`, [`${code} is verified.`, ...answer.notes]);
  }

  @Get('act')
  @RequireRole(rights.action)
  async actionForm(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    return htmlPage(FormPage, await correctiveActionPage(principal, code));
  }

  @Post('act')
  @RequireRole(rights.action, { takes: 'photo-form' })
  async saveAction(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await writeRecord(principal, actions, withActionAsDone(posted), { lot: code });
    if ('problem' in answer)
      return htmlPage(
        FormPage,
        await correctiveActionPage(principal, code, { posted, ...answer }),
        statusFor(answer.problem),
      );
    const lot = await findLot(readerOf(principal), code);
    const mayRelease = lot?.state === 'held' && awaitsRelease(lot) && mayWrite(principal, 'mark');
    return redirect(mayRelease ? `/lots/${code}/release` : `/lots/${code}`, [
      mayRelease ? 'Saved. No hold rule applies any more.' : 'Saved. The lot was judged again.',
      ...answer.notes,
    ]);
  }

  @Post('answer')
  @RequireRole(rights.answer)
  async saveAnswer(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await writeRecord(principal, answers, posted, { lot: code });
    return 'problem' in answer ? answer : redirect(`/lots/${code}`, answer.notes);
  }
}
