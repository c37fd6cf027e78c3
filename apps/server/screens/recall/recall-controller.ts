import { Body, Controller, Get, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { suspectLots } from '#libs/actions/facts/suspect-lots.js';
import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { paperNamed } from '#libs/pdf/paper-size.js';
import { readRecall } from '#libs/actions/recall/read-recall.js';
import { recallDocument } from '#libs/actions/recall/recall-list.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeEveryJar } from '../trace/trace-csv.js';
import { RequireRole } from '../../http/access.js';
import { download, htmlPage, redirect } from '../../http/responses.js';
import { type Principal, CurrentPrincipal, readerOf } from '../../http/principal.js';
import { declareRecall } from './declare-recall.js';
import { parseRecallSearch, recallPage } from './recall-page.js';
import { RecallPage } from '#pages/recall/recall.js';

/** A recall that begins from lots, a thermometer found wrong or a day. Opening the list recalls nothing. */
@Controller('recall')
export class RecallController {
  @Get()
  async show(@CurrentPrincipal() principal: Principal, @Query() query: Posted) {
    const view = await recallPage(principal, query);
    return htmlPage(RecallPage, view, statusFor(view.refused));
  }

  /** The same list as a PDF to work from, with the notice to post; read only. */
  @Get('list.pdf')
  async list(@CurrentPrincipal() principal: Principal, @Query() query: Posted) {
    const codes = await suspectLots(readerOf(principal), parseRecallSearch(query));
    if ('problem' in codes) return codes;
    const paper = paperNamed(firstText(query['paper']));
    const list = await recallDocument(principal.book, principal.writeContext, codes, {
      members: principal.readsAll,
      paper,
    });
    return 'problem' in list ? list : download(list.name, 'application/pdf', list.write);
  }

  /** Every jar that it reaches and where it went, one line each, streamed. */
  @Get('jars.csv')
  async jars(@CurrentPrincipal() principal: Principal, @Query() query: Posted) {
    const { sugarhouse, by } = principal.writeContext;
    const codes = await suspectLots(readerOf(principal), parseRecallSearch(query));
    if ('problem' in codes) return codes;
    return download(`recall-${codes[0]}-jars.csv`, 'text/csv; charset=utf-8', (out) =>
      principal.book.snapshot(async (sql): Promise<Refusal | void> => {
        const list = await readRecall(
          { sql, sugarhouse },
          codes,
          await loadSeasonContext(sql, principal.writeContext),
          { by },
        );
        if (!list) return invalid('lot', 'lots of this book', codes.join(', '));
        const packs = list.lots.map((lot) => lot.lot);
        return writeEveryJar({ sql, sugarhouse }, packs, [...list.dispatches, ...list.plans], out);
      }),
    );
  }

  @Post()
  @RequireRole(rights.mark)
  async declare(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const done = await declareRecall(principal, posted);
    if (!('problem' in done)) return redirect(`/recall/calls?${done.query}`, done.notes);
    const view = await recallPage(principal, posted, { posted, ...done });
    return htmlPage(RecallPage, view, statusFor(done.problem));
  }
}
