import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import type { RecordKind } from '#libs/records/entry.js';
import type { Posted } from '../../forms/field-view.js';
import { formGround, statusFor } from '../../forms/form-view.js';
import { reasonFor } from '../../forms/program-fields.js';
import { deskOf } from '../../forms/write-record.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { changesIn, correctPage } from './correct-page.js';
import { entryPage, recordPage, whereShown } from './record-pages.js';

@Controller()
export class EntriesController {
  @Get('entries/:seq')
  async entry(@Who() who: Visitor, @Param('seq') seq: string) {
    const told = await entryPage(who, seq);
    return 'problem' in told ? told : page('records/entry', told);
  }

  @Get('records/:kind/:id')
  async record(@Who() who: Visitor, @Param('kind') kind: string, @Param('id') id: string) {
    const told = await recordPage(who, kind as RecordKind, id);
    return 'problem' in told ? told : page('records/record', told);
  }

  @Get('records/:kind/:id/correct')
  @For(rights.correction)
  async correct(@Who() who: Visitor, @Param('kind') kind: string, @Param('id') id: string) {
    const told = await correctPage(who, kind as RecordKind, id);
    return 'problem' in told ? told : page('records/correct', told);
  }

  @Post('records/:kind/:id/correct')
  @For(rights.correction)
  async corrected(@Who() who: Visitor, @Param('kind') kind: string, @Param('id') id: string, @Body() posted: Posted) {
    const asked = await correctPage(who, kind as RecordKind, id, { posted });
    if ('problem' in asked) return asked;
    const desk = deskOf(who, posted);
    const changes = changesIn(asked.fields, posted, desk.now, (await formGround(who)).manner.zone);
    const answer = await correctEntry(
      who.book,
      desk,
      String(asked.firstEntry),
      reasonFor(asked.fields, posted),
      changes,
    );
    if (!('problem' in answer)) return seeOther(whereShown(kind as RecordKind, id, asked.lot), answer.notes);
    const told = await correctPage(who, kind as RecordKind, id, { posted, ...answer });
    return 'problem' in told ? told : page('records/correct', told, statusFor(answer.problem));
  }
}
