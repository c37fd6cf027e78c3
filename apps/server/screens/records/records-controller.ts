import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import { voidRecord } from '#libs/actions/record/void-record.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { CorrectPage } from '#pages/records/correct.js';
import { EntryPage } from '#pages/records/entry.js';
import { RecordPage } from '#pages/records/record.js';
import { VoidedPage } from '#pages/records/voided.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { formContext, statusFor } from '../../forms/form-view.js';
import { reasonFor } from '../../forms/program-fields.js';
import { writeContextOf } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { requireRightToCorrect } from '../../http/may-write.js';
import { htmlPage, redirect, redirectToSaved, pageOr } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { correctPage } from './correct-page.js';
import { voidedPage } from './voided-page.js';
import { entryPage, recordPage, recordAddress } from './record-pages.js';

@Controller()
export class RecordsController {
  @Get('records/:seq')
  async entry(@CurrentPrincipal() principal: Principal, @Param('seq') seq: string) {
    return pageOr(EntryPage, await entryPage(principal, seq));
  }

  @Get('records/:kind/:id')
  async record(@CurrentPrincipal() principal: Principal, @Param('kind') kind: string, @Param('id') id: string) {
    const view = await recordPage(principal, kind as RecordKind, id);
    const voided = 'problem' in view ? await voidedPage(principal, kind as RecordKind, id) : undefined;
    if (voided) return htmlPage(VoidedPage, voided);
    return pageOr(RecordPage, view);
  }

  @Get('records/:kind/:id/correct')
  @RequireRole(rights.correction)
  async correctForm(
    @CurrentPrincipal() principal: Principal,
    @Param('kind') kind: string,
    @Param('id') id: string,
    @Query() query: Posted,
  ) {
    requireRightToCorrect(principal, kind as RecordKind);
    return pageOr(
      CorrectPage,
      await correctPage(principal, kind as RecordKind, id, {
        field: firstText(query['field']),
        item: firstText(query['item']),
      }),
    );
  }

  @Post('records/:kind/:id/correct')
  @RequireRole(rights.correction)
  async saveCorrection(
    @CurrentPrincipal() principal: Principal,
    @Param('kind') kind: string,
    @Param('id') id: string,
    @Body() posted: Posted,
  ) {
    requireRightToCorrect(principal, kind as RecordKind);
    const query = await correctPage(principal, kind as RecordKind, id, { posted });
    if ('problem' in query) return query;
    const context = writeContextOf(principal, posted);
    const { parseOptions } = await formContext(principal);
    const sent = query.changes(posted, { ...parseOptions, now: context.now });
    const answer =
      'problem' in sent
        ? sent
        : await correctEntry(
            principal.book,
            context,
            String(query.firstEntry),
            reasonFor(query.fields, posted),
            sent.changes,
          );
    if (!('problem' in answer))
      return redirectToSaved(recordAddress(kind as RecordKind, id, query.lot), answer, { kind: kind as RecordKind });
    return pageOr(
      CorrectPage,
      await correctPage(principal, kind as RecordKind, id, { posted, ...answer }),
      statusFor(answer.problem),
    );
  }

  @Post('records/:kind/:id/void')
  @RequireRole(rights.correction)
  async voided(
    @CurrentPrincipal() principal: Principal,
    @Param('kind') kind: string,
    @Param('id') id: string,
    @Body() posted: Posted,
  ) {
    requireRightToCorrect(principal, kind as RecordKind);
    const context = writeContextOf(principal, posted);
    const why = firstText(posted['why']);
    const done = await voidRecord(principal.book, context, kind as RecordKind, id, why);
    if ('problem' in done) {
      const page = await correctPage(principal, kind as RecordKind, id, { voiding: { why, problem: done.problem } });
      return 'problem' in page ? done : htmlPage(CorrectPage, page, statusFor(done.problem));
    }
    return redirect(recordAddress(kind as RecordKind, id, done.lot), [`${id} is voided: entry ${done.entry}.`]);
  }
}
