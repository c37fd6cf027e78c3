import { Body, Controller, Get, Param, Post, type Type } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import type { AuthorityConsultation } from '#libs/actions/lots/authority-consultation.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { recallLot } from '#libs/actions/lots/recall-lots.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { FormPage } from '#pages/form-page.js';
import { firstText, type Posted, typedOrPicked } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeContextOf } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { htmlPage, redirect } from '../../http/responses.js';
import { parseRecallNotes } from '../recall/declare-recall.js';
import { type StatusChange, statusChangePage } from './status-change-page.js';

/** The form and its post at /lots/CODE/hold, /release or /recall. */
export function statusChangeController(change: StatusChange): Type<unknown> {
  @Controller(`lots/:code/${change}`)
  class StatusChangeController {
    @Get()
    async form(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
      return htmlPage(FormPage, await statusChangePage(principal, code, change));
    }

    @Post()
    @RequireRole(rights.mark)
    async save(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Body() posted: Posted) {
      const answer = await changeStatus(principal, code, change, posted);
      if (!('problem' in answer))
        return redirect(change === 'recall' ? `/recall/calls?lot=${encodeURIComponent(answer.lot)}` : `/lots/${code}`);
      const form = await statusChangePage(principal, code, change, { posted, ...answer });
      return htmlPage(FormPage, form, statusFor(answer.problem));
    }
  }
  return StatusChangeController;
}

async function changeStatus(principal: Principal, code: string, change: StatusChange, posted: Posted) {
  const context = writeContextOf(principal, posted);
  const why = typedOrPicked(posted, 'why');
  switch (change) {
    case 'hold':
      return holdLot(principal.book, context, code, why);
    case 'release':
      return releaseLot(principal.book, context, code, why, consultationFrom(principal, posted));
    case 'recall':
      return recallLot(principal.book, context, code, why, parseRecallNotes(posted));
  }
}

const consultationFrom = (principal: Principal, posted: Posted): AuthorityConsultation => ({
  authority: firstText(posted['authority']),
  askedAt: firstText(posted['askedAt']),
  answer: firstText(posted['answer']),
  byOwner: principal.role === 'owner',
});
