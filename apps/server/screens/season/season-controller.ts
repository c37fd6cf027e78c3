import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { invalid } from '#libs/actions/record/problem.js';
import { one, type Posted } from '../../forms/field-view.js';
import { writeRecord } from '../../forms/write-record.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { Who, type Visitor } from '../../http/principal.js';
import { currentYear, picturesPage, seasonPage } from './season-pages.js';

@Controller('season')
export class SeasonController {
  @Get()
  async now(@Who() who: Visitor) {
    return seeOther(`/season/${await currentYear(who)}`);
  }

  @Get(':year')
  async show(@Who() who: Visitor, @Param('year') year: string) {
    if (!/^20\d\d$/.test(year)) return invalid('year', 'a year like 2026', `"${year}"`);
    return page('season/season', await seasonPage(who, Number(year)));
  }

  @Get(':year/pictures')
  @For('guest', { heavy: true })
  async pictures(@Who() who: Visitor, @Param('year') year: string) {
    if (!/^20\d\d$/.test(year)) return invalid('year', 'a year like 2026', `"${year}"`);
    return page('season/pictures', await picturesPage(who, Number(year)));
  }

  @Post(':year/close')
  @For(rights.season)
  async close(@Who() who: Visitor, @Param('year') year: string, @Body() posted: Posted) {
    if (!/^20\d\d$/.test(year)) return invalid('year', 'a year like 2026', `"${year}"`);
    const told = await seasonPage(who, Number(year));
    const missing = told.missing
      .map((each) => `${each.code ? `${each.code}: ` : ''}${each.words}`)
      .join(' ')
      .slice(0, 1900);
    if (one(posted['signed']) === '')
      return page('season/season', { ...told, fault: 'Who signs it: expected a name, got nothing' }, 422);
    const answer = await writeRecord(who, kindByName.get('season')!, posted, { year, missing: missing || 'nothing' });
    return 'problem' in answer ? answer : seeOther(`/season/${year}`, [`${year} is closed and signed.`]);
  }
}
