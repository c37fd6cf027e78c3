import { Controller, Get, Param, Query } from '@nestjs/common';
import { unknown } from '#libs/actions/record/problem.js';
import { traceLot } from '#libs/actions/lots/trace-lot.js';
import { seasonGround } from '#libs/actions/season/season-context.js';
import { lastOfDeeds } from '#libs/store/log/lot-entries.js';
import { findEntry } from '#libs/store/log/log.js';
import { readRecall } from '#libs/actions/recall/read-recall.js';
import { writeRecallPdf } from '#libs/reports/recall/recall-pdf.js';
import type { Posted } from '../../forms/field-view.js';
import { download, page } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { writeJarsCsv, writeWentCsv } from './trace-csv.js';
import { othersJar } from './others-jar.js';
import { jarPage, lotTracePage } from './trace-pages.js';

@Controller()
export class TraceController {
  @Get('jars/:code')
  async jar(@Who() who: Visitor, @Param('code') code: string, @Query() asked: Posted) {
    const told = await jarPage(who, code, asked);
    if (!('problem' in told)) return page('public-jar-page/jar', told);
    const elsewhere = await othersJar(who, code);
    return elsewhere ? page('public-jar-page/elsewhere', elsewhere) : told;
  }

  @Get('lots/:code/trace')
  async lot(@Who() who: Visitor, @Param('code') code: string, @Query() asked: Posted) {
    const told = await lotTracePage(who, code, asked);
    return 'problem' in told ? told : page('trace/trace', told);
  }

  @Get('lots/:code/jars.csv')
  async jars(@Who() who: Visitor, @Param('code') code: string) {
    const { sugarhouse, now } = who.desk;
    const trace = await traceLot(who.book.read, sugarhouse, code, now, { codes: false });
    if ('problem' in trace) return trace;
    return download(`jars-${trace.pack ?? trace.code}.csv`, csv, (out) =>
      who.book.snapshot((sql) => writeJarsCsv(sql, sugarhouse, trace, out)),
    );
  }

  @Get('lots/:code/went.csv')
  async went(@Who() who: Visitor, @Param('code') code: string) {
    const trace = await traceLot(who.book.read, who.desk.sugarhouse, code, who.desk.now);
    if ('problem' in trace) return trace;
    return download(`went-${trace.pack ?? trace.code}.csv`, csv, (out) => writeWentCsv(trace, out));
  }

  /** The list to work a recall from. Reading it calls nothing back. */
  @Get('lots/:code/recall.pdf')
  async recall(@Who() who: Visitor, @Param('code') code: string) {
    const { sugarhouse, by } = who.desk;
    const recalled = await lastOfDeeds(who.book.read, sugarhouse, code, ['recall']);
    const why = recalled
      ? ((await findEntry(who.book.read, recalled.seq))?.why ?? '')
      : 'not recalled: a list to look at';
    const list = await who.book.snapshot(
      async (sql) =>
        readRecall(sql, sugarhouse, code, await seasonGround(sql, who.desk), { why, by, members: who.readsAll }),
      { rerun: true },
    );
    if (!list) return unknown('lot', code);
    return download(`recall-${code}.pdf`, 'application/pdf', (out) => writeRecallPdf(list, out, who.desk.now));
  }
}

const csv = 'text/csv; charset=utf-8';
