import { Controller, Get, Param } from '@nestjs/common';
import { unknown } from '#libs/actions/problem.js';
import { seasonGround } from '#libs/actions/season-ground.js';
import { lastOfDeeds } from '#libs/records/deeds.js';
import { findEntry } from '#libs/records/log.js';
import { readRecall } from '#libs/reports/read-recall.js';
import { writeRecallPdf } from '#libs/reports/recall-pdf.js';
import { download, page } from '../web/answers.js';
import { Who, type Visitor } from '../web/visitor.js';
import { jarPage, lotTracePage } from './trace-pages.js';

@Controller()
export class TraceController {
  @Get('jars/:code')
  async jar(@Who() who: Visitor, @Param('code') code: string) {
    const told = await jarPage(who, code);
    return 'problem' in told ? told : page('jars/jar', told);
  }

  @Get('lots/:code/trace')
  async lot(@Who() who: Visitor, @Param('code') code: string) {
    const told = await lotTracePage(who, code);
    return 'problem' in told ? told : page('lots/trace', told);
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
