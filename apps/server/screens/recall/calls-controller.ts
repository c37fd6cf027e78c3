import { Body, Controller, Get, Post, Query } from '@nestjs/common';
import { lotsInDoubt } from '#libs/actions/lots/suspect-lots.js';
import { invalid } from '#libs/actions/record/problem.js';
import { recallCalls } from '#libs/actions/recall/recall-call.js';
import { rights } from '#libs/actions/accounts/rights.js';
import { one, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { type Visitor, Who } from '../../http/principal.js';
import { callFormPage, callsPage } from './calls-page.js';
import { askedFrom } from './recall-page.js';

/** The calls of a recall. A call is recorded with the first of the lots that the recall began from. */
@Controller('recall')
export class CallsController {
  @Get('calls')
  async list(@Who() who: Visitor, @Query() asked: Posted) {
    const codes = await lotsInDoubt(who.book.read, who.desk.sugarhouse, askedFrom(asked));
    if ('problem' in codes) return codes;
    const told = await callsPage(who, codes, asked);
    return told ? page('recall/calls', told) : invalid('lot', 'lots of this book', codes.join(', '));
  }

  @Get('call')
  @For(rights['recall-call'])
  async form(@Who() who: Visitor, @Query() asked: Posted) {
    const codes = await lotsInDoubt(who.book.read, who.desk.sugarhouse, askedFrom(asked));
    if ('problem' in codes) return codes;
    if (one(asked['to']) === '') return invalid('to', 'who was called', 'nothing');
    return page('form-page', await callFormPage(who, codes, one(asked['to'])));
  }

  @Post('call')
  @For(rights['recall-call'])
  async called(@Who() who: Visitor, @Query() asked: Posted, @Body() posted: Posted) {
    const codes = await lotsInDoubt(who.book.read, who.desk.sugarhouse, askedFrom(asked));
    if ('problem' in codes) return codes;
    const to = one(asked['to']);
    const answer = await writeRecord(who, recallCalls, posted, { lot: codes[0] ?? '', to });
    if ('problem' in answer)
      return page('form-page', await callFormPage(who, codes, to, { posted, ...answer }), statusFor(answer.problem));
    const query = new URLSearchParams(codes.map((code): [string, string] => ['lot', code])).toString();
    return seeOther(`/recall/calls?${query}`, [`Saved the call to ${to}.`]);
  }
}
