import { Controller, Get, Post, Query, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { rights } from '#libs/actions/accounts/rights.js';
import { loadStoredLogo, loadPrintableLogo, removeLogo, saveLogo } from '#libs/actions/labels/logo.js';
import { type Problem, sentencesOf, unknown } from '#libs/actions/record/problem.js';
import { LogoPage } from '#pages/house/logo.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { RequireRole } from '../../http/access.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';
import { type HtmlPage, htmlPage, redirect } from '../../http/responses.js';
import { readUpload } from '../files/read-upload.js';

/** The maker's logo: shown, set, removed. A setting of the household, not part of the record. */
@Controller('house')
export class LogoController {
  @Get('logo')
  show(@CurrentPrincipal() principal: Principal) {
    return logoPage(principal);
  }

  @Get('logo.png')
  async picture(
    @CurrentPrincipal() principal: Principal,
    @Query() query: Posted,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    const logo = await loadPrintableLogo(readerOf(principal));
    if (!logo) return unknown('drawing', 'logo.png');
    void reply.type('image/png');
    return Buffer.from(firstText(query['ink']) === 'yes' ? logo.inkPng : logo.colourPng);
  }

  @Post('logo')
  @RequireRole(rights.house, { takes: 'file' })
  async save(@CurrentPrincipal() principal: Principal, @Req() request: FastifyRequest) {
    const { bytes } = await readUpload(request);
    const saved = await saveLogo(principal.book, principal.writeContext, bytes);
    if ('problem' in saved) return logoPage(principal, saved.problem);
    return redirect('/house/logo', ['Saved: labels carry it from now on.']);
  }

  @Post('logo/remove')
  @RequireRole(rights.house)
  async remove(@CurrentPrincipal() principal: Principal) {
    await removeLogo(principal.book, principal.writeContext);
    return redirect('/house/logo', ['Removed: labels carry text only.']);
  }
}

async function logoPage(principal: Principal, problem?: Problem): Promise<HtmlPage> {
  const stored = await loadStoredLogo(readerOf(principal));
  const faults = problem ? sentencesOf(problem) : [];
  return htmlPage(LogoPage, { stored, faults }, problem ? statusFor(problem) : 200);
}
