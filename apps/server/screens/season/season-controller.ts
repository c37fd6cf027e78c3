import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { kindNamed } from '#libs/actions/kinds/registry.js';
import { invalid } from '#libs/actions/record/problem.js';
import { PicturesPage } from '#pages/season/pictures.js';
import { SeasonPage } from '#pages/season/season.js';
import { momentIn } from '#libs/actions/record/times.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { writeContextOf, writeRecord } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage, redirect } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { currentYear, picturesPage, seasonPage } from './season-pages.js';

@Controller('season')
export class SeasonController {
  @Get()
  async now(@CurrentPrincipal() principal: Principal) {
    return redirect(`/season/${await currentYear(principal)}`);
  }

  @Get(':year')
  async show(@CurrentPrincipal() principal: Principal, @Param('year') year: string, @Query() query: Posted) {
    if (!/^20\d\d$/.test(year)) return invalid('year', 'a year like 2026', `"${year}"`);
    return htmlPage(SeasonPage, await seasonPage(principal, Number(year), query));
  }

  @Get(':year/pictures')
  async pictures(@CurrentPrincipal() principal: Principal, @Param('year') year: string) {
    if (!/^20\d\d$/.test(year)) return invalid('year', 'a year like 2026', `"${year}"`);
    return htmlPage(PicturesPage, await picturesPage(principal, Number(year)));
  }

  @Post(':year/close')
  @RequireRole(rights.season)
  async close(@CurrentPrincipal() principal: Principal, @Param('year') year: string, @Body() posted: Posted) {
    if (!/^20\d\d$/.test(year)) return invalid('year', 'a year like 2026', `"${year}"`);
    const view = await seasonPage(principal, Number(year));
    const missing = view.missing
      .map((each) => `${each.code ? `${each.code}: ` : ''}${each.words}`)
      .join(' ')
      .slice(0, 1900);
    if (firstText(posted['signed']) === '')
      return htmlPage(SeasonPage, { ...view, fault: 'Enter the name of the person who signs' }, 422);
    const { zone, by, now } = writeContextOf(principal, posted);
    const signed = { year, missing: missing || 'nothing', by, at: momentIn(zone, now) };
    const again = view.closed ? { of: year, why: 'signed again' } : {};
    const answer = await writeRecord(principal, kindNamed('season'), posted, signed, again);
    return 'problem' in answer ? answer : redirect(`/season/${year}`, [`${year} is closed and signed.`]);
  }
}
