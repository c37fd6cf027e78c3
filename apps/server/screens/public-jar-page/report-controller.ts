import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { groundOf } from '#libs/actions/record/write-context.js';
import { Open } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { type Visitor, Who } from '../../http/principal.js';
import { takeReport } from './customer-report.js';
import { type FoundJar, jarTyped } from './found-jar.js';

/** Whoever holds a jar tells its makers what is wrong with it. The page says nothing of other reports or jars. */
@Controller()
export class ReportController {
  @Get(['j/:code/report', 'J/:code/report'])
  @Open({ anyHost: true })
  async form(@Who() who: Visitor, @Param('code') code: string) {
    const found = await jarTyped(who, code);
    return found
      ? page('public-jar-page/report', await reportForm(who, found))
      : page('public-jar-page/jar-unknown', {}, 404);
  }

  @Post(['j/:code/report', 'J/:code/report'])
  @Open({ costs: 15, anyHost: true })
  async send(@Who() who: Visitor, @Param('code') code: string, @Body() sent: Record<string, unknown>) {
    const found = await jarTyped(who, code);
    if (!found) return page('public-jar-page/jar-unknown', {}, 404);
    const taken = await takeReport(who, found, sent);
    if (taken === 'taken') return seeOther(`/j/${found.jar.code}/reported`);
    return page(
      'public-jar-page/report',
      { ...(await reportForm(who, found)), ...taken },
      taken.fault === 'full' ? 429 : 422,
    );
  }

  @Get(['j/:code/reported', 'J/:code/reported'])
  @Open({ anyHost: true })
  async thanks(@Who() who: Visitor, @Param('code') code: string) {
    const found = await jarTyped(who, code);
    return found
      ? page('public-jar-page/reported', { ...(await reportForm(who, found)), title: 'The makers have it' })
      : page('public-jar-page/jar-unknown', {}, 404);
  }
}

/** The jar's own house answers for it: in a book of several that need not be the first. */
async function reportForm(who: Visitor, { book, jar }: FoundJar) {
  const { house } = await groundOf(book.read, { ...who.desk, sugarhouse: jar.sugarhouse });
  const phone = house?.phone ?? '';
  return { title: 'Something is wrong with this jar', code: jar.code, phone, said: '', reach: '' };
}
