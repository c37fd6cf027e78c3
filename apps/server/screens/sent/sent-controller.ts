import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { counts } from '#libs/actions/kinds/count.js';
import { dispatches } from '#libs/actions/kinds/dispatch.js';
import { one, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { nextId } from '../../forms/next-id.js';
import { writeRecord } from '../../forms/write-record.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { acknowledge, acknowledgePage, lookedPage, writeLooked } from './after-sending.js';
import { countPage, sendPage, sentPage } from './sent-pages.js';

@Controller('sent')
export class SentController {
  @Get()
  async list(@Who() who: Visitor, @Query() asked: Posted) {
    return page('sent/list', await sentPage(who, one(asked['from'])));
  }

  @Get('new')
  @For(rights['already left'])
  async send(@Who() who: Visitor, @Query('lot') lot = '') {
    return page('form-page', await sendPage(who, { posted: { lot } }));
  }

  @Post('new')
  @For(rights['already left'])
  async sent(@Who() who: Visitor, @Body() posted: Posted) {
    const answer = await writeRecord(who, dispatches, posted);
    if ('problem' in answer)
      return page('form-page', await sendPage(who, { posted, ...answer }), statusFor(answer.problem));
    const left = one(posted['alreadyLeft']) === 'yes';
    const saved = left
      ? `${answer.id} is recorded as already left. It waits for a maker’s initials.`
      : `${answer.id} is in the book.`;
    return seeOther('/sent', [saved, ...answer.notes]);
  }

  @Get(':id/acknowledge')
  @For(rights.acknowledgement)
  async acknowledgeForm(@Who() who: Visitor, @Param('id') id: string) {
    const told = await acknowledgePage(who, id);
    return 'problem' in told ? told : page('form-page', told);
  }

  @Post(':id/acknowledge')
  @For(rights.acknowledgement)
  async acknowledged(@Who() who: Visitor, @Param('id') id: string, @Body() posted: Posted) {
    const answer = await acknowledge(who, id, posted);
    if (!('problem' in answer))
      return seeOther(`/records/dispatch/${encodeURIComponent(id)}`, [`${id} is initialled.`]);
    const told = await acknowledgePage(who, id, { posted, ...answer });
    return 'problem' in told ? told : page('form-page', told, statusFor(answer.problem));
  }

  @Get(':id/looked')
  async lookForm(@Who() who: Visitor, @Param('id') id: string) {
    const told = await lookedPage(who, id);
    return 'problem' in told ? told : page('form-page', told);
  }

  @Post(':id/looked')
  @For(rights['look at a return'])
  async looked(@Who() who: Visitor, @Param('id') id: string, @Body() posted: Posted) {
    const answer = await writeLooked(who, id, posted);
    if (!('problem' in answer)) return seeOther(`/records/dispatch/${encodeURIComponent(id)}`, answer.notes);
    const told = await lookedPage(who, id, { posted, ...answer });
    return 'problem' in told ? told : page('form-page', told, statusFor(answer.problem));
  }

  @Get('count')
  async count(@Who() who: Visitor, @Query('lot') lot = '') {
    return page('form-page', await countPage(who, { posted: { lot } }));
  }

  @Post('count')
  @For(rights.count)
  async counted(@Who() who: Visitor, @Body() posted: Posted) {
    const id = one(posted['id']) ? {} : { id: await nextId(who, 'count', 'C') };
    const answer = await writeRecord(who, counts, posted, id);
    if ('problem' in answer)
      return page('form-page', await countPage(who, { posted, ...answer }), statusFor(answer.problem));
    return seeOther('/sent', [`${answer.id} is in the book.`, ...answer.notes]);
  }
}
