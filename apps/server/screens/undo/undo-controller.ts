import { Body, Controller, ForbiddenException, Param, Post } from '@nestjs/common';
import { type Undone, undoEntries, undoMinutes } from '#libs/actions/record/undo-entry.js';
import { unknown } from '#libs/actions/record/problem.js';
import type { RecordRow } from '#libs/records/entry.js';
import { findEntry } from '#libs/store/log/log.js';
import type { Posted } from '../../forms/field-view.js';
import { writeContextOf } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { mayCorrect } from '../../http/may-write.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { parseEntries } from '../../http/undo-offer.js';
import { redirect } from '../../http/responses.js';
import { recordAddress } from '../records/record-pages.js';

/**
 * The undo button after a save. The writer of the entry may undo it for a while; after that, or for another's entry,
 * only people who may correct its record.
 */
@Controller('undo')
export class UndoController {
  @Post(':seq')
  @RequireRole('helper')
  async undo(@CurrentPrincipal() principal: Principal, @Param('seq') seq: string, @Body() posted: Posted) {
    const context = writeContextOf(principal, posted);
    const numbers = parseEntries(seq);
    const entries = await Promise.all(numbers.map((number) => findEntry(principal.book.read, number)));
    const records = entries.flatMap((entry) => (entry?.sugarhouse === context.sugarhouse ? (entry.record ?? []) : []));
    const [first] = records;
    if (!first || records.length < numbers.length) return unknown('entry', seq);
    const isOwn = (entry: (typeof entries)[number]): boolean =>
      entry?.author === context.author && context.now.getTime() - Date.parse(entry.typedAt) <= undoMinutes * 60_000;
    if (!entries.every(isOwn) && !records.every(({ kind }) => mayCorrect(principal, kind)))
      throw new ForbiddenException();
    const done = await undoEntries(principal.book, context, numbers);
    if ('problem' in done) return done;
    return redirect(records.length > 1 ? '/dispatches' : addressAfterUndo(first, done), [undoneText(done)]);
  }
}

/** Where a record can still be seen: its own page, or the list of its day where it was voided. */
function addressAfterUndo({ kind, id, lot }: RecordRow, done: readonly Undone[]): string {
  const isGone = done.every(({ voided }) => voided) && (lot === undefined || lot === id);
  return isGone ? '/' : recordAddress(kind, id, lot);
}

function undoneText(done: readonly Undone[]): string {
  const ids = done.flatMap(({ voided, id }) => (voided ? [id] : [])).reverse();
  if (ids.length === 0) return 'Undone. The record is as it was before.';
  return `Undone. ${ids.join(', ')} ${ids.length === 1 ? 'is' : 'are'} voided.`;
}
