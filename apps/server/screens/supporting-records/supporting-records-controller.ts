import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import type { Kind } from '#libs/actions/record/kind.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { checkedOf } from '#libs/store/queries/instrument-readings.js';
import { passedCheck } from '#libs/syrup/instruments/instrument-checks.js';
import { FormPage } from '#pages/form-page.js';
import { SupportingRecordKindPage } from '#pages/supporting-records/kind.js';
import { SupportingRecordListPage } from '#pages/supporting-records/list.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage, redirect } from '../../http/responses.js';
import { requireRight } from '../../http/may-write.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';
import {
  supportingRecordKind,
  supportingRecordKindPage,
  supportingRecordListPage,
  newSupportingRecordPage,
} from './supporting-record-pages.js';

/**
 * Records other than lots: checks, cleaning, supplies, complaints and the rest, each form made from the kind's fields.
 */
@Controller('supporting-records')
export class SupportingRecordsController {
  @Get()
  async list(@CurrentPrincipal() principal: Principal) {
    return htmlPage(SupportingRecordListPage, await supportingRecordListPage(principal));
  }

  @Get(':plural')
  async kind(@CurrentPrincipal() principal: Principal, @Param('plural') plural: string) {
    const kind = supportingRecordKind(plural);
    return 'problem' in kind
      ? kind
      : htmlPage(SupportingRecordKindPage, await supportingRecordKindPage(principal, kind));
  }

  @Get(':plural/new')
  async form(@CurrentPrincipal() principal: Principal, @Param('plural') plural: string, @Query() known: Posted) {
    const kind = supportingRecordKind(plural);
    if ('problem' in kind) return kind;
    requireRight(principal, kind);
    return htmlPage(
      FormPage,
      await newSupportingRecordPage(
        principal,
        kind,
        { posted: known, same: known['same'] === '1' },
        firstText(known['pack']),
      ),
    );
  }

  @Post(':plural/new')
  @RequireRole('helper', { takes: 'photo-form' })
  async save(
    @CurrentPrincipal() principal: Principal,
    @Param('plural') plural: string,
    @Body() posted: Posted,
    @Query('pack') pack?: string,
  ) {
    const kind = supportingRecordKind(plural);
    if ('problem' in kind) return kind;
    const answer = await writeRecord(principal, kind, posted);
    if (!('problem' in answer))
      return redirect(
        (await padAddress(principal, kind, pack)) ?? (await addressAfterSave(principal, kind, answer.id)),
        [`Saved ${answer.id}.`, ...answer.notes],
      );
    return htmlPage(
      FormPage,
      await newSupportingRecordPage(principal, kind, { posted, ...answer }, pack),
      statusFor(answer.problem),
    );
  }
}

/** A failed check opens its own page, which lists the suspect lots; a complaint whose lot is held, that lot's page. */
async function addressAfterSave(principal: Principal, kind: Kind, id: string): Promise<string> {
  if (kind.kind === 'complaint') {
    const code = (await findRecord(readerOf(principal), 'complaint', id))?.body.lot;
    const lot = typeof code === 'string' ? await findLot(readerOf(principal), code) : undefined;
    if (lot?.state === 'held') return `/lots/${encodeURIComponent(lot.code)}`;
  }
  const check = kind.kind === 'check' && (await findRecord(readerOf(principal), 'check', id));
  const failed = check && passedCheck(checkedOf(id, check.body)) === false;
  return failed ? `/records/check/${encodeURIComponent(id)}` : `/supporting-records/${kind.plural}`;
}

/** A check that the quick form of a pack asked for leads back to it, while the syrup is hot. */
async function padAddress(principal: Principal, kind: Kind, pack: string | undefined): Promise<string | undefined> {
  if (kind.kind !== 'check' || typeof pack !== 'string' || pack === '') return undefined;
  const found = await findRecord(readerOf(principal), 'pack', pack);
  return found && `/lots/${encodeURIComponent(found.id)}#fill`;
}
