import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { planLotCards } from '#libs/actions/labels/lot-cards.js';
import { isLotCardName } from '#libs/labels/content/lot-card-names.js';
import { labelRefusal, planLabels } from '#libs/actions/labels/plan-labels.js';
import { saveNote } from '#libs/store/household/household.js';
import { drawAlignmentSheet } from '#libs/labels/layout/alignment-sheet.js';
import { drawLabels } from '#libs/labels/drawing/draw-labels.js';
import { loadStocksInUse } from '#libs/actions/labels/label-stocks.js';
import { unknown } from '#libs/actions/record/problem.js';
import type { Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { RequireRole } from '../../http/access.js';
import { download, redirect, pageOr } from '../../http/responses.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';
import { cautionNote, labelsPage } from './labels-page.js';
import { parseLabelForm } from './label-form.js';
import { savedNudge } from './nudges.js';
import { printFromForm } from './print-labels.js';
import { spoiledPage, recordSpoiled } from './spoiled-labels.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { FormPage } from '#pages/form-page.js';
import { LabelsPage } from '#pages/labels/labels.js';

@Controller()
export class LabelsController {
  @Get('lots/:code/labels')
  async form(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Query() query: Posted) {
    return pageOr(LabelsPage, await labelsPage(principal, code, { posted: query }));
  }

  /** Before the first labels are printed, the cautions and the authority are shown. */
  @Post('lots/:code/labels/read')
  @RequireRole(rights.labels)
  async confirmCautions(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    const text = `${principal.initials} ${principal.writeContext.now.toISOString()}`;
    await principal.book.writeHousehold((sql) =>
      saveNote(sugarhouseReader(sql, principal.writeContext.sugarhouse), cautionNote, text),
    );
    return redirect(`/lots/${code}/labels`);
  }

  @Post('lots/:code/labels')
  @RequireRole(rights.labels)
  async print(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await printFromForm(principal, code, posted);
    if (!('problem' in answer)) return redirect(answer.at, answer.notes);
    return pageOr(LabelsPage, await labelsPage(principal, code, { posted, ...answer }), statusFor(answer.problem));
  }

  @Get('lots/:code/labels.pdf')
  @RequireRole('helper')
  async sheet(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Query() query: Posted) {
    const request = await parseLabelForm(principal, query);
    if ('problem' in request) return request;
    const plan = await planLabels(principal.book.read, principal.writeContext, { ...request, lot: code });
    if ('problem' in plan) return plan;
    return download(`labels-${plan.lot.code}.pdf`, 'application/pdf', async (out) => {
      const drawn = await drawLabels(plan.run, out);
      return 'problem' in drawn ? labelRefusal(drawn.problem) : undefined;
    });
  }

  @Get('lots/:code/labels/spoiled')
  async spoiledForm(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    return pageOr(FormPage, await spoiledPage(principal, code));
  }

  @Post('lots/:code/labels/spoiled')
  @RequireRole(rights.labels)
  async spoiled(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await recordSpoiled(principal, code, posted);
    if (!('problem' in answer)) return redirect(`/lots/${answer.lot}`, answer.notes);
    return pageOr(FormPage, await spoiledPage(principal, code, { posted, ...answer }), statusFor(answer.problem));
  }

  @Get('lots/:code/tags/:kind.pdf')
  async tags(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Param('kind') kind: string) {
    if (!isLotCardName(kind)) return unknown('card of a lot', kind);
    const cards = await planLotCards(principal.book.read, principal.writeContext, code, kind);
    if ('problem' in cards) return cards;
    return download(`${kind}-${cards.lot}.pdf`, 'application/pdf', async (out) => {
      const drawn = await cards.draw(out);
      return 'problem' in drawn ? drawn : undefined;
    });
  }

  @Get('stocks/:name/alignment.pdf')
  async alignment(@CurrentPrincipal() principal: Principal, @Param('name') name: string) {
    const stock = (await loadStocksInUse(readerOf(principal))).find((each) => each.name === name);
    if (!stock) return unknown('label stock', name);
    const nudge = await savedNudge(principal, name);
    return download(`alignment-${name}.pdf`, 'application/pdf', (out) =>
      drawAlignmentSheet({ stock, nudge, createdAt: principal.writeContext.now }, out),
    );
  }
}
