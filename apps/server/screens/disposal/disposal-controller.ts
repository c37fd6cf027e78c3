import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { disposals } from '#libs/actions/kinds/disposal.js';
import { FormPage } from '#pages/form-page.js';
import { type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage, redirectToSaved } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { disposalPage } from './disposal-page.js';

@Controller('lots/:code/disposal')
export class DisposalController {
  @Get()
  async form(@CurrentPrincipal() principal: Principal, @Param('code') code: string) {
    return htmlPage(FormPage, await disposalPage(principal, code));
  }

  @Post()
  @RequireRole(rights.spent)
  async save(@CurrentPrincipal() principal: Principal, @Param('code') code: string, @Body() posted: Posted) {
    const answer = await writeRecord(principal, disposals, posted, { lot: code });
    if ('problem' in answer)
      return htmlPage(FormPage, await disposalPage(principal, code, { posted, ...answer }), statusFor(answer.problem));
    return redirectToSaved(`/lots/${code}`, answer, { kind: 'spent', notes: [`Saved ${answer.id}.`] });
  }
}
