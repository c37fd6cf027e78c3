import { Body, Controller, Get, Post, Query } from '@nestjs/common';
import { suspectLots } from '#libs/actions/facts/suspect-lots.js';
import { invalid } from '#libs/actions/record/problem.js';
import { recallCalls } from '#libs/actions/recall/recall-call.js';
import { rights } from '#libs/actions/accounts/rights.js';
import { CallListPage } from '#pages/recall/calls.js';
import { FormPage } from '#pages/form-page.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage, redirect } from '../../http/responses.js';
import { type Principal, CurrentPrincipal, readerOf } from '../../http/principal.js';
import { callFormPage, callsPage } from './calls-page.js';
import { parseRecallSearch } from './recall-page.js';

/** The calls of a recall. A call is recorded once, with every lot that the recall began from. */
@Controller('recall')
export class CallsController {
  @Get('calls')
  async list(@CurrentPrincipal() principal: Principal, @Query() query: Posted) {
    const codes = await suspectLots(readerOf(principal), parseRecallSearch(query));
    if ('problem' in codes) return codes;
    const view = await callsPage(principal, codes, query);
    return view ? htmlPage(CallListPage, view) : invalid('lot', 'lots of this book', codes.join(', '));
  }

  @Get('call')
  @RequireRole(rights['recall-call'])
  async form(@CurrentPrincipal() principal: Principal, @Query() query: Posted) {
    const codes = await suspectLots(readerOf(principal), parseRecallSearch(query));
    if ('problem' in codes) return codes;
    if (firstText(query['to']) === '') return invalid('to', 'who was called', 'nothing');
    return htmlPage(FormPage, await callFormPage(principal, codes, firstText(query['to'])));
  }

  @Post('call')
  @RequireRole(rights['recall-call'])
  async saveCall(@CurrentPrincipal() principal: Principal, @Query() request: Posted, @Body() posted: Posted) {
    const codes = await suspectLots(readerOf(principal), parseRecallSearch(request));
    if ('problem' in codes) return codes;
    const to = firstText(request['to']);
    const answer = await writeRecord(principal, recallCalls, posted, {
      lot: codes[0] ?? '',
      lots: codes.slice(1).join(';'),
      to,
    });
    if ('problem' in answer)
      return htmlPage(
        FormPage,
        await callFormPage(principal, codes, to, { posted, ...answer }),
        statusFor(answer.problem),
      );
    const query = new URLSearchParams(codes.map((code): [string, string] => ['lot', code])).toString();
    return redirect(`/recall/calls?${query}`, [`Saved the call to ${to}.`]);
  }
}
