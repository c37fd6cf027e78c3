import { Body, Controller, Get, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import { receipts } from '#libs/actions/kinds/receipt.js';
import { one, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { nextId } from '../../forms/next-id.js';
import { writeRecord } from '../../forms/write-record.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { gatherPage, receivePage, sapPage } from './sap-pages.js';

@Controller('sap')
export class SapController {
  @Get()
  async list(@Who() who: Visitor, @Query() asked: Posted) {
    return page('sap/list', await sapPage(who, one(asked['from'])));
  }

  @Get('gather')
  async gather(@Who() who: Visitor) {
    return page('form-page', await gatherPage(who));
  }

  @Post('gather')
  @For(rights.gathering)
  async gathered(@Who() who: Visitor, @Body() posted: Posted) {
    const id = posted['id'] ? {} : { id: await nextId(who, 'gathering', 'G') };
    const answer = await writeRecord(who, gatherings, posted, id);
    if ('problem' in answer)
      return page('form-page', await gatherPage(who, { posted, ...answer }), statusFor(answer.problem));
    return seeOther('/sap', [`${answer.id} is in the book.`, ...answer.notes]);
  }

  @Get('receive')
  @For(rights.receipt)
  async receive(@Who() who: Visitor) {
    return page('form-page', await receivePage(who));
  }

  @Post('receive')
  @For(rights.receipt)
  async received(@Who() who: Visitor, @Body() posted: Posted) {
    const id = posted['id'] ? {} : { id: await nextId(who, 'receipt', 'R') };
    const answer = await writeRecord(who, receipts, posted, id);
    if ('problem' in answer)
      return page('form-page', await receivePage(who, { posted, ...answer }), statusFor(answer.problem));
    return seeOther('/sap', [`${answer.id} is in the book.`, ...answer.notes]);
  }
}
