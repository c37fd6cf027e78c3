import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import type { Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { type Visitor, Who } from '../../http/principal.js';
import { cameBackPage, meantJar, startPage } from './return-page.js';
import { writeCameBack } from './record-return.js';

/** A bad jar comes back: which it is, what is seen of it now, its kept-back sister, and whether the lot is held. */
@Controller('came-back')
export class CameBackController {
  @Get()
  async begin(@Who() who: Visitor, @Query('q') typed: unknown) {
    const told = typeof typed === 'string' ? typed.trim().slice(0, 200) : '';
    const meant = told === '' ? undefined : await meantJar(who, told);
    return meant ? seeOther(`/came-back/${encodeURIComponent(meant)}`) : page('returns/start', startPage(told));
  }

  @Get(':code')
  async look(@Who() who: Visitor, @Param('code') code: string) {
    const told = await cameBackPage(who, code, {});
    return 'problem' in told ? told : page('returns/jar', told);
  }

  @Post(':code')
  @For(rights.complaint)
  async written(@Who() who: Visitor, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await writeCameBack(who, code, posted);
    if (!('problem' in answer)) return seeOther(`/lots/${encodeURIComponent(answer.lot)}`, answer.notes);
    const told = await cameBackPage(who, code, { posted, ...answer });
    return 'problem' in told ? told : page('returns/jar', told, statusFor(answer.problem));
  }
}
