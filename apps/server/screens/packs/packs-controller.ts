import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { packs, packsUnderway } from '#libs/actions/kinds/pack.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import type { Recorded } from '#libs/actions/record/record.js';
import { one, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { lotPage } from '../lots/lot-page.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { breakGlass, pourBack } from './at-the-bench.js';
import { checkSeals } from './check-seals.js';
import { fillJar } from './fill-jar.js';
import { jarPage } from './jar-temperature-page.js';
import { beginPackPage, packsPage, wholePackPage } from './pack-pages.js';
import { stepPage } from './pack-steps.js';

@Controller('packs')
export class PacksController {
  @Get()
  async list(@Who() who: Visitor, @Query() asked: Posted) {
    return page('packs/list', await packsPage(who, one(asked['from'])));
  }

  @Get('begin')
  async begin(@Who() who: Visitor, @Query('from') from?: string) {
    return page('form-page', await beginPackPage(who, from ? { posted: { fromLots: from } } : {}));
  }

  @Post('begin')
  @For(rights['pack underway'])
  async began(@Who() who: Visitor, @Body() posted: Posted) {
    const answer = await writeRecord(who, packsUnderway, posted);
    if (!('problem' in answer)) return seeOther(`/lots/${answer.id}#fill`, answer.notes);
    return page('form-page', await beginPackPage(who, { posted, ...answer }), statusFor(answer.problem));
  }

  @Get('whole')
  @For(rights.pack)
  async whole(@Who() who: Visitor) {
    return page('form-page', await wholePackPage(who));
  }

  @Post('whole')
  @For(rights.pack)
  async wholeWritten(@Who() who: Visitor, @Body() posted: Posted) {
    const answer = await writeRecord(who, packs, posted);
    if (!('problem' in answer)) return seeOther(`/lots/${answer.id}`, answer.notes);
    return page('form-page', await wholePackPage(who, { posted, ...answer }), statusFor(answer.problem));
  }

  @Post(':code/fill')
  @For(rights['pack underway'])
  async fill(@Who() who: Visitor, @Param('code') code: string, @Body() posted: Posted) {
    return this.written(who, code, posted, await fillJar(who, code, posted));
  }

  @Post(':code/poured-back')
  @For('helper')
  async pouredBack(@Who() who: Visitor, @Param('code') code: string, @Body() posted: Posted) {
    return this.written(who, code, posted, await pourBack(who, code, posted));
  }

  @Post(':code/broken-glass')
  @For('helper')
  async brokenGlass(@Who() who: Visitor, @Param('code') code: string, @Body() posted: Posted) {
    return this.written(who, code, posted, await breakGlass(who, code, posted));
  }

  @Get(':code/jar')
  async jar(@Who() who: Visitor, @Param('code') code: string, @Query() asked: Posted) {
    const told = await jarPage(who, code, asked);
    return 'problem' in told ? told : page('packs/jar-temperature', told);
  }

  @Get(':code/:step')
  async step(@Who() who: Visitor, @Param('code') code: string, @Param('step') step: string) {
    const told = await stepPage(who, code, step);
    return 'problem' in told ? told : page('form-page', told);
  }

  @Post(':code/:step')
  @For(rights['pack underway'])
  async stepped(@Who() who: Visitor, @Param('code') code: string, @Param('step') step: string, @Body() posted: Posted) {
    const asked = await stepPage(who, code, step);
    if ('problem' in asked) return asked;
    const answer =
      step === 'seals'
        ? await checkSeals(who, code, posted)
        : await writeRecord(who, packsUnderway, posted, {}, { add: true, of: code });
    if (!('problem' in answer)) return seeOther(`/lots/${code}`, answer.notes);
    const told = await stepPage(who, code, step, { posted, ...answer });
    return 'problem' in told ? told : page('form-page', told, statusFor(answer.problem));
  }

  private async written(who: Visitor, code: string, posted: Posted, answer: Recorded | Refusal) {
    if (!('problem' in answer)) return seeOther(`/lots/${code}#fill`, answer.notes);
    const part = await lotPage(who, code, { posted, ...answer });
    return 'problem' in part ? part : page(part.template, part.told, statusFor(answer.problem));
  }
}
