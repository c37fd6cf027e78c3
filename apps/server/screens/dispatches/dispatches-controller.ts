import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { counts } from '#libs/actions/kinds/count.js';
import { dispatchKinds } from '#libs/actions/kinds/dispatch.js';
import { FormPage } from '#pages/form-page.js';
import { DispatchListPage } from '#pages/dispatches/list.js';
import { desktopFile } from '../../desktop/desktop-table.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { dispatchesTable } from './dispatches-table.js';
import { statusFor } from '../../forms/form-view.js';
import { withContactDetails } from '../../forms/remembered.js';
import { nextId } from '../../forms/next-id.js';
import { writeRecord } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage, redirect, redirectToSaved, pageOr } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { acknowledge, acknowledgePage, inspectionPage, saveInspection } from './dispatch-follow-ups.js';
import { saveTray } from './save-tray.js';
import { countPage, dispatchFormPage, dispatchesPage } from './dispatch-pages.js';

@Controller('dispatches')
export class DispatchesController {
  @Get()
  async list(@CurrentPrincipal() principal: Principal, @Query() query: Posted) {
    if (firstText(query['as']) === 'csv') return desktopFile(await dispatchesTable(principal, query), query);
    return htmlPage(DispatchListPage, await dispatchesPage(principal, query));
  }

  @Get('new')
  @RequireRole(rights['already left'])
  async form(@CurrentPrincipal() principal: Principal, @Query() query: Posted) {
    const { lot = '', kind } = query;
    // The form shows what is recorded where nothing else is picked.
    const posted = { lot, kind: dispatchKinds.find((each) => each === kind) ?? 'sale' };
    return htmlPage(FormPage, await dispatchFormPage(principal, { posted, same: query['same'] === '1' }));
  }

  @Post('new')
  @RequireRole(rights['already left'], { takes: 'photo-form' })
  async save(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const answer = await saveTray(principal, await withContactDetails(principal, 'dispatch', posted));
    if ('problem' in answer)
      return htmlPage(FormPage, await dispatchFormPage(principal, { posted, ...answer }), statusFor(answer.problem));
    const alreadyLeft = firstText(posted['alreadyLeft']) === 'yes';
    const notes = answer.saved.map(({ id }) =>
      alreadyLeft ? `${id} is recorded as already left. A maker must initial it.` : `Saved ${id}.`,
    );
    return redirectToSaved('/dispatches', answer.saved, { kind: 'dispatch', notes });
  }

  @Get(':id/acknowledge')
  @RequireRole(rights.acknowledgement)
  async acknowledgeForm(@CurrentPrincipal() principal: Principal, @Param('id') id: string) {
    return pageOr(FormPage, await acknowledgePage(principal, id));
  }

  @Post(':id/acknowledge')
  @RequireRole(rights.acknowledgement)
  async acknowledged(@CurrentPrincipal() principal: Principal, @Param('id') id: string, @Body() posted: Posted) {
    const answer = await acknowledge(principal, id, posted);
    if (!('problem' in answer))
      return redirect(`/records/dispatch/${encodeURIComponent(id)}`, [`Saved your initials for ${id}.`]);
    return pageOr(FormPage, await acknowledgePage(principal, id, { posted, ...answer }), statusFor(answer.problem));
  }

  @Get(':id/inspection')
  async inspectionForm(@CurrentPrincipal() principal: Principal, @Param('id') id: string) {
    return pageOr(FormPage, await inspectionPage(principal, id));
  }

  @Post(':id/inspection')
  @RequireRole(rights['look at a return'])
  async inspect(@CurrentPrincipal() principal: Principal, @Param('id') id: string, @Body() posted: Posted) {
    const answer = await saveInspection(principal, id, posted);
    if (!('problem' in answer)) return redirect(`/records/dispatch/${encodeURIComponent(id)}`, answer.notes);
    return pageOr(FormPage, await inspectionPage(principal, id, { posted, ...answer }), statusFor(answer.problem));
  }

  @Get('count')
  @RequireRole(rights.count)
  async countForm(@CurrentPrincipal() principal: Principal, @Query('lot') lot = '') {
    return htmlPage(FormPage, await countPage(principal, { posted: { lot } }));
  }

  @Post('count')
  @RequireRole(rights.count)
  async saveCount(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const id = firstText(posted['id']) ? {} : { id: await nextId(principal, 'count', 'C') };
    const answer = await writeRecord(principal, counts, posted, id);
    if ('problem' in answer)
      return htmlPage(FormPage, await countPage(principal, { posted, ...answer }), statusFor(answer.problem));
    return redirectToSaved('/dispatches', answer, { kind: 'count', notes: [`Saved ${answer.id}.`] });
  }
}
