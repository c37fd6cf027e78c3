import { Body, Controller, Get, Post, Query } from '@nestjs/common';
import { closePractice, drawJar } from '#libs/actions/practise.js';
import { invalid, type Refusal } from '#libs/actions/problem.js';
import { one, type Posted } from '../forms/field-view.js';
import { statusFor } from '../forms/form-view.js';
import { deskOf } from '../forms/write-record.js';
import { For } from '../web/access.js';
import { page, seeOther } from '../web/answers.js';
import { type Visitor, Who } from '../web/visitor.js';
import { practisePage } from './practise-page.js';

/** A recall practised once a season: a jar is drawn, the clock runs, the balance closes it. Nothing is called back. */
@Controller('recall/practise')
export class PractiseController {
  @Get()
  async show(@Who() who: Visitor, @Query() asked: Posted) {
    const told = await practisePage(who, one(asked['jar']), one(asked['since']));
    return 'problem' in told ? told : page('recall/practise', told);
  }

  /** Draws the jar. The clock begins with its page, whose address carries both. */
  @Post('begin')
  @For('maker')
  async begin(@Who() who: Visitor, @Body() posted: Posted) {
    const jar = await drawJar(who.book, who.desk.sugarhouse);
    if (typeof jar !== 'string') return jar;
    const since = deskOf(who, posted).now.toISOString();
    return seeOther(`/recall/practise?${new URLSearchParams({ jar, since }).toString()}`);
  }

  @Post()
  @For('maker')
  async close(@Who() who: Visitor, @Body() posted: Posted) {
    const [jar, since] = [one(posted['jar']), one(posted['since'])];
    const answer = await closed(who, posted, jar, since);
    if (!('problem' in answer)) return seeOther('/recall/practise', answer.notes);
    const told = await practisePage(who, jar, since, { posted, ...answer });
    return 'problem' in told ? told : page('recall/practise', told, statusFor(answer.problem));
  }
}

async function closed(
  who: Visitor,
  posted: Posted,
  jar: string,
  since: string,
): Promise<Refusal | { notes: string[] }> {
  const shelf = one(posted['onShelf']);
  if (shelf !== '' && !/^\d{1,6}$/.test(shelf)) return invalid('onShelf', 'a whole number like 24', `"${shelf}"`);
  const desk = deskOf(who, posted);
  const milliseconds = desk.now.getTime() - Date.parse(since);
  // One left lying overnight was no practice.
  if (!(milliseconds >= 0 && milliseconds < 86_400_000))
    return invalid('since', 'a practice begun today', `"${since}"`);
  const done = await closePractice(who.book, desk, jar, {
    milliseconds,
    ...(shelf === '' ? {} : { onShelf: Number(shelf) }),
  });
  if ('problem' in done) return done;
  return {
    notes: [`Jar ${done.jar}, ${Math.ceil(milliseconds / 1000)} s: ${done.result}. It is on the season’s record.`],
  };
}
