import { Body, Controller, Get, Post, Query } from '@nestjs/common';
import { labelStocks } from '#libs/actions/kinds/label-stock.js';
import { NewStockPage } from '#pages/stocks/new.js';
import { StockListPage } from '#pages/stocks/list.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { htmlPage, redirect } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { newStockPage, stocksPage } from './stock-pages.js';

/** Label sheets and rolls: those that come with the book and the house's own. */
@Controller('stocks')
export class StocksController {
  @Get()
  async list(@CurrentPrincipal() principal: Principal) {
    return htmlPage(StockListPage, await stocksPage(principal));
  }

  /** Draws what was typed so far; previewing writes nothing. */
  @Get('new')
  async form(@CurrentPrincipal() principal: Principal, @Query() typed: Posted) {
    return htmlPage(NewStockPage, await newStockPage(principal, { posted: typed }));
  }

  @Post('new')
  async save(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const answer = await writeRecord(principal, labelStocks, posted);
    if (!('problem' in answer))
      return redirect('/stocks', [`Saved ${firstText(posted['id'])}. Print its alignment sheet first.`]);
    return htmlPage(NewStockPage, await newStockPage(principal, { posted, ...answer }), statusFor(answer.problem));
  }
}
