import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import { receipts } from '#libs/actions/kinds/receipt.js';
import { FormPage } from '#pages/form-page.js';
import { SapListPage } from '#pages/sap/list.js';
import { desktopFile } from '../../desktop/desktop-table.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { sapTable } from './sap-table.js';
import { statusFor } from '../../forms/form-view.js';
import { withContactDetails } from '../../forms/remembered.js';
import { nextId } from '../../forms/next-id.js';
import { writeRecord } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage, pageOr, redirectToSaved } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { gatherPage, receivePage, sapPage } from './sap-pages.js';
import { answerAllergens, sellerAnswerPage } from './seller-answer.js';

@Controller('sap')
export class SapController {
  @Get()
  async list(@CurrentPrincipal() principal: Principal, @Query() query: Posted) {
    if (firstText(query['as']) === 'csv') return desktopFile(await sapTable(principal, query), query);
    return htmlPage(SapListPage, await sapPage(principal, query));
  }

  @Get('gather')
  @RequireRole(rights.gathering)
  async gather(@CurrentPrincipal() principal: Principal, @Query('same') same?: string) {
    return htmlPage(FormPage, await gatherPage(principal, { same: same === '1' }));
  }

  @Post('gather')
  @RequireRole(rights.gathering, { takes: 'photo-form' })
  async gathered(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const id = posted['id'] ? {} : { id: await nextId(principal, 'gathering', 'G') };
    const answer = await writeRecord(principal, gatherings, posted, id);
    if ('problem' in answer)
      return htmlPage(FormPage, await gatherPage(principal, { posted, ...answer }), statusFor(answer.problem));
    return redirectToSaved('/sap', answer, { kind: 'gathering', notes: [`Saved ${answer.id}.`] });
  }

  @Get('receive')
  @RequireRole(rights.receipt)
  async receive(@CurrentPrincipal() principal: Principal, @Query('same') same?: string) {
    return htmlPage(FormPage, await receivePage(principal, { same: same === '1' }));
  }

  @Post('receive')
  @RequireRole(rights.receipt, { takes: 'photo-form' })
  async received(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const id = posted['id'] ? {} : { id: await nextId(principal, 'receipt', 'R') };
    const answer = await writeRecord(principal, receipts, await withContactDetails(principal, 'receipt', posted), id);
    if ('problem' in answer)
      return htmlPage(FormPage, await receivePage(principal, { posted, ...answer }), statusFor(answer.problem));
    return redirectToSaved('/sap', answer, { kind: 'receipt', notes: [`Saved ${answer.id}.`] });
  }

  @Get('receipts/:id/allergens')
  @RequireRole(rights.receipt)
  async sellerAnswer(@CurrentPrincipal() principal: Principal, @Param('id') id: string, @Query('back') back?: string) {
    return pageOr(FormPage, await sellerAnswerPage(principal, id, firstText(back)));
  }

  @Post('receipts/:id/allergens')
  @RequireRole(rights.receipt)
  async sellerAnswered(
    @CurrentPrincipal() principal: Principal,
    @Param('id') id: string,
    @Body() posted: Posted,
    @Query('back') query?: string,
  ) {
    const answer = await answerAllergens(principal, id, posted);
    const back = firstText(posted['back']) || firstText(query) || id;
    if ('problem' in answer)
      return pageOr(
        FormPage,
        await sellerAnswerPage(principal, id, back, { posted, ...answer }),
        statusFor(answer.problem),
      );
    return redirectToSaved(`/lots/${encodeURIComponent(back)}`, answer, { kind: 'receipt' });
  }
}
