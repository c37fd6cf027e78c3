import { Body, Controller, Get, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { lotsInDoubt } from '#libs/actions/lots/suspect-lots.js';
import { seasonGround } from '#libs/actions/season/season-context.js';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { lastOfDeeds } from '#libs/store/log/lot-entries.js';
import { paperNamed, paperSize } from '#libs/pdf/paper-size.js';
import { readRecall } from '#libs/actions/recall/read-recall.js';
import { writeRecallPdf } from '#libs/reports/recall/recall-pdf.js';
import { one, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeEveryJar } from '../trace/trace-csv.js';
import { For } from '../../http/access.js';
import { download, page, seeOther } from '../../http/responses.js';
import { type Visitor, Who } from '../../http/principal.js';
import { declareRecall } from './declare-recall.js';
import { askedFrom, recallPage } from './recall-page.js';

/** A recall that begins from lots, a thermometer found wrong or a day. Looking at the list calls nothing back. */
@Controller('recall')
export class RecallController {
  @Get()
  async look(@Who() who: Visitor, @Query() asked: Posted) {
    const told = await recallPage(who, asked);
    return page('recall/recall', told, statusFor(told.refused));
  }

  /** The same list to work from, with the notice to post; reads only. */
  @Get('list.pdf')
  async list(@Who() who: Visitor, @Query() asked: Posted) {
    const { sugarhouse, by } = who.desk;
    const codes = await lotsInDoubt(who.book.read, sugarhouse, askedFrom(asked));
    if ('problem' in codes) return codes;
    const recalled = await lastOfDeeds(who.book.read, sugarhouse, codes[0] ?? '', ['recall']);
    // Of one that was declared the list tells its own reason.
    const why = recalled ? {} : { why: 'not recalled: a list to look at' };
    const list = await who.book.snapshot(
      async (sql) =>
        readRecall(sql, sugarhouse, codes, await seasonGround(sql, who.desk), { ...why, by, members: who.readsAll }),
      { rerun: true },
    );
    if (!list) return invalid('lot', 'lots of this book', codes.join(', '));
    const size = paperSize(paperNamed(one(asked['paper'])), list.house);
    return download(`recall-${codes[0]}.pdf`, 'application/pdf', (out) =>
      writeRecallPdf(list, out, who.desk.now, size),
    );
  }

  /** Every jar that it reaches and where it went, a line each, streamed. */
  @Get('jars.csv')
  async jars(@Who() who: Visitor, @Query() asked: Posted) {
    const { sugarhouse, by } = who.desk;
    const codes = await lotsInDoubt(who.book.read, sugarhouse, askedFrom(asked));
    if ('problem' in codes) return codes;
    return download(`recall-${codes[0]}-jars.csv`, 'text/csv; charset=utf-8', (out) =>
      who.book.snapshot(async (sql): Promise<Refusal | void> => {
        const list = await readRecall(sql, sugarhouse, codes, await seasonGround(sql, who.desk), { by });
        if (!list) return invalid('lot', 'lots of this book', codes.join(', '));
        const packs = list.lots.map((lot) => lot.lot);
        return writeEveryJar(sql, sugarhouse, packs, [...list.dispatches, ...list.plans], out);
      }),
    );
  }

  @Post()
  @For(rights.mark)
  async declare(@Who() who: Visitor, @Body() posted: Posted) {
    const done = await declareRecall(who, posted);
    if (!('problem' in done)) return seeOther(`/recall/calls?${done.query}`, done.notes);
    const told = await recallPage(who, posted, { posted, ...done });
    return page('recall/recall', told, statusFor(done.problem));
  }
}
