import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { ReturnPage } from '#pages/returns/jar.js';
import { ReturnStartPage } from '#pages/returns/start.js';
import type { Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage, redirect, pageOr } from '../../http/responses.js';
import { type Principal, CurrentPrincipal } from '../../http/principal.js';
import { returnPage, findReturned, returnStartPage } from './return-page.js';
import { recordReturn } from './record-return.js';

/** A customer returns a bad jar: which jar, what is observed, the retained sample, and whether the lot is held. */
@Controller('returns')
export class ReturnsController {
  @Get()
  async start(@CurrentPrincipal() principal: Principal, @Query('q') typed: unknown) {
    const view = typeof typed === 'string' ? typed.trim().slice(0, 200) : '';
    const resolved = view === '' ? undefined : await findReturned(principal, view);
    return resolved
      ? redirect(`/returns/${encodeURIComponent(resolved)}`)
      : htmlPage(ReturnStartPage, returnStartPage(view));
  }

  @Get(':code')
  async form(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    return pageOr(ReturnPage, await returnPage(principal, code, {}));
  }

  @Post(':code')
  @RequireRole(rights.complaint, { takes: 'photo-form' })
  async save(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await recordReturn(principal, code, posted);
    if (!('problem' in answer)) return redirect(`/lots/${encodeURIComponent(answer.lot)}`, answer.notes);
    return pageOr(ReturnPage, await returnPage(principal, code, { posted, ...answer }), statusFor(answer.problem));
  }
}
