import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { spent } from '#libs/actions/kinds/disposal.js';
import { type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { useUpPage } from './disposal-page.js';

@Controller('lots/:code/use-up')
export class UseUpController {
  @Get()
  async ask(@Who() who: Visitor, @Param('code') code: string) {
    return page('form-page', await useUpPage(who, code));
  }

  @Post()
  @For(rights.spent)
  async write(@Who() who: Visitor, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await writeRecord(who, spent, posted, { lot: code });
    if ('problem' in answer)
      return page('form-page', await useUpPage(who, code, { posted, ...answer }), statusFor(answer.problem));
    return seeOther(`/lots/${code}`, [`${answer.id} is in the book.`, ...answer.notes]);
  }
}
