import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { boils, boilsUnderway } from '#libs/actions/kinds/boil.js';
import { one, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { beginPage, boilsPage, wholeBoilPage } from './boil-pages.js';
import { logPage } from './log-pages.js';
import { writeInLog } from './append-boil-line.js';

@Controller('boils')
export class BoilsController {
  @Get()
  async list(@Who() who: Visitor, @Query() asked: Posted) {
    return page('boils/list', await boilsPage(who, one(asked['from'])));
  }

  @Get('begin')
  async begin(@Who() who: Visitor) {
    return page('form-page', await beginPage(who));
  }

  @Post('begin')
  @For(rights['boil underway'])
  async began(@Who() who: Visitor, @Body() posted: Posted) {
    const answer = await writeRecord(who, boilsUnderway, posted);
    if (!('problem' in answer)) return seeOther(`/lots/${answer.id}`, answer.notes);
    return page('form-page', await beginPage(who, { posted, ...answer }), statusFor(answer.problem));
  }

  @Get('whole')
  @For(rights.boil)
  async whole(@Who() who: Visitor) {
    return page('form-page', await wholeBoilPage(who));
  }

  @Post('whole')
  @For(rights.boil)
  async wholeWritten(@Who() who: Visitor, @Body() posted: Posted) {
    const answer = await writeRecord(who, boils, posted);
    if (!('problem' in answer)) return seeOther(`/lots/${answer.id}`, answer.notes);
    return page('form-page', await wholeBoilPage(who, { posted, ...answer }), statusFor(answer.problem));
  }

  @Get(':code/log/:what')
  async log(@Who() who: Visitor, @Param('code') code: string, @Param('what') what: string) {
    const told = await logPage(who, code, what);
    return 'problem' in told ? told : page('form-page', told);
  }

  @Post(':code/log/:what')
  @For(rights['boil underway'])
  async logged(@Who() who: Visitor, @Param('code') code: string, @Param('what') what: string, @Body() posted: Posted) {
    const answer = await writeInLog(who, code, what, posted);
    // A tap on another lot's page leads back to it.
    const back = one(posted['back']);
    if (!('problem' in answer))
      return seeOther(back ? `/lots/${encodeURIComponent(back)}` : `/lots/${code}#finish`, answer.notes);
    const told = await logPage(who, code, what, { posted, ...answer });
    return 'problem' in told ? told : page('form-page', told, statusFor(answer.problem));
  }
}
