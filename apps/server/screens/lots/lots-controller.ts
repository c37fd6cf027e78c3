import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { actions } from '#libs/actions/kinds/corrective-action.js';
import { answers } from '#libs/actions/kinds/answer.js';
import type { AskedAuthority } from '#libs/actions/lots/asked-authority.js';
import { verifications } from '#libs/actions/kinds/verification.js';
import { holdLot, recallLot, releaseLot } from '#libs/actions/lots/mark-lots.js';
import { notesFrom } from '../recall/declare-recall.js';
import { one, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { deskOf, writeRecord } from '../../forms/write-record.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { actPage, markPage, type Mark } from './mark-pages.js';
import { verifyPage, whyPage } from './why-page.js';
import { lotPage } from './lot-page.js';

@Controller('lots/:code')
export class LotsController {
  @Get()
  async show(@Who() who: Visitor, @Param('code') code: string, @Query() asked: Posted) {
    const part = await lotPage(who, code, {}, asked);
    return 'problem' in part ? part : page(part.template, part.told);
  }

  @Get('why')
  async why(@Who() who: Visitor, @Param('code') code: string) {
    const told = await whyPage(who, code);
    return 'problem' in told ? told : page('lots/why', told);
  }

  @Get('verify')
  async verify(@Who() who: Visitor, @Param('code') code: string) {
    return page('form-page', await verifyPage(who, code));
  }

  @Post('verify')
  @For(rights.verification)
  async verified(@Who() who: Visitor, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await writeRecord(who, verifications, posted, { lot: code });
    if ('problem' in answer)
      return page('form-page', await verifyPage(who, code, { posted, ...answer }), statusFor(answer.problem));
    return seeOther(`/lots/${code}`, [`${code} is verified.`, ...answer.notes]);
  }

  @Get('act')
  async act(@Who() who: Visitor, @Param('code') code: string) {
    return page('form-page', await actPage(who, code));
  }

  @Post('act')
  @For(rights.action)
  async acted(@Who() who: Visitor, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await writeRecord(who, actions, posted, { lot: code });
    if ('problem' in answer)
      return page('form-page', await actPage(who, code, { posted, ...answer }), statusFor(answer.problem));
    return seeOther(`/lots/${code}`, ['Written. Judged again by the new readings.', ...answer.notes]);
  }

  @Post('answer')
  @For(rights.answer)
  async answered(@Who() who: Visitor, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await writeRecord(who, answers, posted, { lot: code });
    return 'problem' in answer ? answer : seeOther(`/lots/${code}`, answer.notes);
  }

  @Get('mark/:deed')
  async mark(@Who() who: Visitor, @Param('code') code: string, @Param('deed') deed: string) {
    return page('form-page', await markPage(who, code, markNamed(deed)));
  }

  @Post('mark/:deed')
  @For(rights.mark)
  async marked(@Who() who: Visitor, @Param('code') code: string, @Param('deed') deed: string, @Body() posted: Posted) {
    const mark = markNamed(deed);
    const desk = deskOf(who, posted);
    const answer =
      mark === 'release'
        ? await releaseLot(who.book, desk, code, one(posted['why']), askedIn(who, posted))
        : mark === 'recall'
          ? await recallLot(who.book, desk, code, one(posted['why']), notesFrom(posted))
          : await holdLot(who.book, desk, code, one(posted['why']));
    if (!('problem' in answer))
      return seeOther(mark === 'recall' ? `/recall/calls?lot=${encodeURIComponent(answer.lot)}` : `/lots/${code}`);
    const form = await markPage(who, code, mark, { posted, ...answer });
    return page('form-page', form, statusFor(answer.problem));
  }
}

const askedIn = (who: Visitor, posted: Posted): AskedAuthority => ({
  authority: one(posted['authority']),
  askedAt: one(posted['askedAt']),
  answer: one(posted['answer']),
  byOwner: who.role === 'owner',
});

const markNamed = (deed: string): Mark => (deed === 'release' || deed === 'recall' ? deed : 'hold');
