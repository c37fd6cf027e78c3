import { Body, Controller, ForbiddenException, Param, Post } from '@nestjs/common';
import { undoEntry, undoMinutes } from '#libs/actions/record/undo-entry.js';
import { unknown } from '#libs/actions/record/problem.js';
import { findEntry } from '#libs/store/log/log.js';
import type { Posted } from '../../forms/field-view.js';
import { writeContextOf } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { mayWrite } from '../../http/may-write.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { seeOther } from '../../http/responses.js';
import { whereShown } from '../records/record-pages.js';

/** The button beside a save. Who wrote the entry may undo it for a while; later, or another's, who may correct. */
@Controller('undo')
export class UndoController {
  @Post(':seq')
  @RequireRole('helper')
  async undo(@CurrentPrincipal() principal: Principal, @Param('seq') seq: string, @Body() posted: Posted) {
    const number = /^[1-9]\d{0,8}$/.test(seq) ? Number(seq) : 0;
    const context = writeContextOf(principal, posted);
    const entry = await findEntry(principal.book.read, number);
    if (!entry?.record || entry.sugarhouse !== context.sugarhouse) return unknown('entry', seq);
    const age = context.now.getTime() - Date.parse(entry.typedAt);
    const own = entry.author === context.author && age <= undoMinutes * 60_000;
    if (!own && !mayWrite(principal, 'correction')) throw new ForbiddenException();
    const done = await undoEntry(principal.book, context, number);
    if ('problem' in done) return done;
    const { kind, id, lot } = entry.record;
    const to = !done.voided || (lot !== undefined && lot !== id) ? whereShown(kind, id, lot) : '/';
    return seeOther(to, [done.voided ? `Undone. ${id} is voided.` : 'Undone. The record is as it was before.']);
  }
}
