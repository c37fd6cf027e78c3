import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { judgingNow } from '#libs/actions/lots/judged-now.js';
import { rights } from '#libs/actions/accounts/rights.js';
import { packToLabel } from '#libs/actions/labels/label-run.js';
import { keepNote } from '#libs/store/household/household.js';
import { drawAlignmentSheet } from '#libs/labels/layout/alignment-sheet.js';
import { drawTags } from '#libs/labels/drawing/draw-tags.js';
import { drawLabels } from '#libs/labels/drawing/draw-labels.js';
import { stocksOf } from '#libs/actions/labels/stocks-of.js';
import { unknown } from '#libs/actions/record/problem.js';
import type { Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { For } from '../../http/access.js';
import { download, page, seeOther } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { cautionNote, labelsPage } from './labels-page.js';
import { asRefusal, runOf, type RunAsked } from './label-runs.js';
import { keptNudge } from './nudges.js';
import { printLabels } from './print-labels.js';
import { spoiledPage, writeSpoiled } from './spoiled-labels.js';
import { tagsOf } from './lot-tags.js';

@Controller()
export class LabelsController {
  @Get('lots/:code/labels')
  async form(@Who() who: Visitor, @Param('code') code: string, @Query() asked: Posted) {
    const told = await labelsPage(who, code, { posted: asked });
    return 'problem' in told ? told : page('labels/labels', told);
  }

  /** Whoever prints the first labels has the cautions and the authority before their eyes first. */
  @Post('lots/:code/labels/read')
  @For(rights.labels)
  async read(@Who() who: Visitor, @Param('code') code: string) {
    const words = `${who.initials} ${who.desk.now.toISOString()}`;
    await who.book.writeHousehold((sql) => keepNote(sql, who.desk.sugarhouse, cautionNote, words));
    return seeOther(`/lots/${code}/labels`);
  }

  @Post('lots/:code/labels')
  @For(rights.labels)
  async print(@Who() who: Visitor, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await printLabels(who, code, posted);
    if (!('problem' in answer)) return seeOther(answer.pdf, answer.notes);
    const told = await labelsPage(who, code, { posted, ...answer });
    return 'problem' in told ? told : page('labels/labels', told, statusFor(answer.problem));
  }

  @Get('lots/:code/labels.pdf')
  @For('helper')
  async sheet(@Who() who: Visitor, @Param('code') code: string, @Query() asked: RunAsked) {
    const may = await packToLabel(await judgingNow(who.book.read, who.desk), code);
    if ('problem' in may) return may;
    const run = await runOf(who, may, asked);
    if ('problem' in run) return run;
    return download(`labels-${may.lot.code}.pdf`, 'application/pdf', async (out) => {
      const drawn = await drawLabels(run.run, out);
      return 'problem' in drawn ? asRefusal(drawn.problem) : undefined;
    });
  }

  @Get('lots/:code/labels/spoiled')
  async spoiledForm(@Who() who: Visitor, @Param('code') code: string) {
    const told = await spoiledPage(who, code);
    return 'problem' in told ? told : page('form-page', told);
  }

  @Post('lots/:code/labels/spoiled')
  @For(rights.labels)
  async spoiled(@Who() who: Visitor, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await writeSpoiled(who, code, posted);
    if (!('problem' in answer)) return seeOther(`/lots/${answer.lot}`, answer.notes);
    const told = await spoiledPage(who, code, { posted, ...answer });
    return 'problem' in told ? told : page('form-page', told, statusFor(answer.problem));
  }

  @Get('lots/:code/tags/:kind.pdf')
  async tags(@Who() who: Visitor, @Param('code') code: string, @Param('kind') kind: string) {
    const tags = await tagsOf(who, code, kind);
    if ('problem' in tags) return tags;
    const sheet = { tags: tags.tags, page: 'letter' as const, createdAt: who.desk.now };
    return download(`${kind}-${code}.pdf`, 'application/pdf', async (out) => {
      const drawn = await drawTags(sheet, out);
      return 'problem' in drawn ? asRefusal(drawn.problem) : undefined;
    });
  }

  @Get('stocks/:name/alignment.pdf')
  async alignment(@Who() who: Visitor, @Param('name') name: string) {
    const stock = (await stocksOf(who.book.read, who.desk.sugarhouse)).find((each) => each.name === name);
    if (!stock) return unknown('label stock', name);
    const nudge = await keptNudge(who, name);
    return download(`alignment-${name}.pdf`, 'application/pdf', (out) =>
      drawAlignmentSheet({ stock, nudge, createdAt: who.desk.now }, out),
    );
  }
}
