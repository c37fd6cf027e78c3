import { Controller, Get, Param, Query } from '@nestjs/common';
import { traceLot } from '#libs/actions/lots/trace-lot.js';
import { isRefusal } from '#libs/actions/record/problem.js';
import { recallDocument } from '#libs/actions/recall/recall-list.js';
import type { Posted } from '../../forms/field-view.js';
import { download, htmlPage, pageOr } from '../../http/responses.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';
import { writeJarsCsv, writeDispatchesCsv } from './trace-csv.js';
import { jarOfOtherHouse } from './jar-of-other-house.js';
import { jarPage } from './jar-page.js';
import { lotTracePage } from './trace-pages.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { OtherHousePage } from '#pages/public-jar-page/other-house.js';
import { TracePage } from '#pages/trace/trace.js';

@Controller()
export class TraceController {
  @Get('jars/:code')
  async jar(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Query() query: Posted) {
    const page = await jarPage(principal, code, query);
    const otherHouse = isRefusal(page) ? await jarOfOtherHouse(principal, code) : undefined;
    return otherHouse ? htmlPage(OtherHousePage, otherHouse) : page;
  }

  @Get('lots/:code/trace')
  async lot(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Query() query: Posted) {
    return pageOr(TracePage, await lotTracePage(principal, code, query));
  }

  @Get('lots/:code/jars.csv')
  async jars(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    const { sugarhouse, now } = principal.writeContext;
    const trace = await traceLot(sugarhouseReader(principal.book.read, sugarhouse), code, now, { codes: false });
    if ('problem' in trace) return trace;
    return download(`jars-${trace.pack ?? trace.code}.csv`, csv, (out) =>
      principal.book.snapshot((sql) => writeJarsCsv({ sql, sugarhouse }, trace, out)),
    );
  }

  @Get('lots/:code/dispatches.csv')
  async dispatches(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    const trace = await traceLot(readerOf(principal), code, principal.writeContext.now);
    if ('problem' in trace) return trace;
    return download(`went-${trace.pack ?? trace.code}.csv`, csv, (out) => writeDispatchesCsv(trace, out));
  }

  /** The list to work a recall from. Opening it recalls nothing. */
  @Get('lots/:code/recall.pdf')
  async recall(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    const list = await recallDocument(principal.book, principal.writeContext, [code], { members: principal.readsAll });
    return 'problem' in list ? list : download(list.name, 'application/pdf', list.write);
  }
}

const csv = 'text/csv; charset=utf-8';
