import { Controller, Get, Param, Query, Res } from '@nestjs/common';
import type { FastifyReply } from 'fastify';
import { labelRefusal, planLabels } from '#libs/actions/labels/plan-labels.js';
import { loadStocksInUse } from '#libs/actions/labels/label-stocks.js';
import { refused, unknown } from '#libs/actions/record/problem.js';
import { alignmentSvg, printSheets } from '#libs/labels/layout/print-sheets.js';
import { PrintPage } from '#pages/labels/print.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { RequireRole } from '../../http/access.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';
import { htmlPage } from '../../http/responses.js';
import { parseLabelForm } from './label-form.js';
import { savedNudge } from './nudges.js';

/** Sheets that a phone or tablet prints through its own dialogue, at 100 %. The form has already recorded the run. */
@Controller()
export class PrintController {
  @Get('lots/:code/labels/print')
  @RequireRole('helper')
  async labels(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Query() query: Posted) {
    const request = await parseLabelForm(principal, query);
    if ('problem' in request) return request;
    const plan = await planLabels(principal.book.read, principal.writeContext, { ...request, lot: code });
    if ('problem' in plan) return plan;
    const printed = await printSheets(plan.run);
    if ('problem' in printed) return labelRefusal(printed.problem);
    if ('tooMany' in printed)
      return refused(
        'too-many-labels',
        `A browser prints ${printed.tooMany} labels at a time: take the PDF, or fewer jars.`,
      );
    const first = firstText(query['first']) === 'yes';
    const here = new URLSearchParams(
      Object.entries(query).flatMap(([name, value]) => (name === 'first' ? [] : [[name, firstText(value)]])),
    );
    const stock = encodeURIComponent(plan.run.stock.name);
    const labels = `/lots/${plan.lot.code}/labels`;
    return htmlPage(PrintPage, {
      title: `Labels of ${plan.lot.code}`,
      back: { href: labels, text: `Labels for ${plan.lot.code}` },
      paper: `/stocks/${stock}/print.css`,
      sheets: printed.sheets,
      opens: !first,
      alignment: first
        ? `/stocks/${stock}/alignment?${new URLSearchParams({ then: `${labels}/print?${here.toString()}` }).toString()}`
        : undefined,
    });
  }

  @Get('stocks/:name/alignment')
  async alignment(@CurrentPrincipal() principal: Principal, @Param('name') name: string, @Query() query: Posted) {
    const stock = (await loadStocksInUse(readerOf(principal))).find((each) => each.name === name);
    if (!stock) return unknown('label stock', name);
    const then = firstText(query['then']);
    const mayReturn = /^\/lots\/[\w%.-]+\/labels\/print\?[\w%=&.+-]*$/.test(then);
    return htmlPage(PrintPage, {
      title: `Alignment sheet, ${stock.words}`,
      back: mayReturn ? { href: then, text: 'On to the labels' } : { href: '/stocks', text: 'Label sheets' },
      paper: `/stocks/${encodeURIComponent(stock.name)}/print.css`,
      sheets: [alignmentSvg(stock, await savedNudge(principal, name))],
      opens: true,
    });
  }

  /** The paper's own size without margins, so that nothing is scaled or moved. */
  @Get('stocks/:name/print.css')
  async paper(
    @CurrentPrincipal() principal: Principal,
    @Param('name') name: string,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    const stock = (await loadStocksInUse(readerOf(principal))).find((each) => each.name === name);
    if (!stock) return unknown('label stock', name);
    void reply.type('text/css; charset=utf-8');
    return `@page { size: ${stock.pageWidthMm}mm ${stock.pageHeightMm}mm; margin: 0; }\n`;
  }
}
