import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import type { Kind } from '#libs/actions/record/kind.js';
import type { CheckBody } from '#libs/records/record-types.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { checkedOf } from '#libs/store/queries/instrument-readings.js';
import { foundRight } from '#libs/syrup/instruments/instrument-checks.js';
import type { Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { demandRight } from '../../http/may-write.js';
import { Who, type Visitor } from '../../http/principal.js';
import { sideKind, sideKindPage, sideListPage, sideNewPage } from './supporting-record-pages.js';

/** Records beside the lots: checks, cleaning, supplies, complaints and the rest, each made from its fields. */
@Controller('side')
export class SideController {
  @Get()
  async list(@Who() who: Visitor) {
    return page('supporting-records/list', await sideListPage(who));
  }

  @Get(':plural')
  async kind(@Who() who: Visitor, @Param('plural') plural: string) {
    const kind = sideKind(plural);
    return 'problem' in kind ? kind : page('supporting-records/kind', await sideKindPage(who, kind));
  }

  @Get(':plural/new')
  async form(@Who() who: Visitor, @Param('plural') plural: string, @Query() known: Posted) {
    const kind = sideKind(plural);
    if ('problem' in kind) return kind;
    demandRight(who, kind);
    return page('form-page', await sideNewPage(who, kind, { posted: known }));
  }

  @Post(':plural/new')
  @For('helper')
  async written(@Who() who: Visitor, @Param('plural') plural: string, @Body() posted: Posted) {
    const kind = sideKind(plural);
    if ('problem' in kind) return kind;
    const answer = await writeRecord(who, kind, posted);
    if (!('problem' in answer))
      return seeOther(await shownAfter(who, kind, answer.id), [`${answer.id} is in the book.`, ...answer.notes]);
    return page('form-page', await sideNewPage(who, kind, { posted, ...answer }), statusFor(answer.problem));
  }
}

/** A check that was failed is shown by itself: the lots in doubt stand on its page. */
async function shownAfter(who: Visitor, kind: Kind, id: string): Promise<string> {
  const check = kind.kind === 'check' && (await findRecord<CheckBody>(who.book.read, who.desk.sugarhouse, 'check', id));
  const failed = check && foundRight(checkedOf(id, check.body)) === false;
  return failed ? `/records/check/${encodeURIComponent(id)}` : `/side/${kind.plural}`;
}
