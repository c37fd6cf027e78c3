import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { beginPractice, closePractice } from '#libs/actions/practice/mock-recall.js';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { one, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { deskOf } from '../../forms/write-record.js';
import { For } from '../../http/access.js';
import { page, seeOther } from '../../http/responses.js';
import { type Visitor, Who } from '../../http/principal.js';
import { practicesPage, runningPage } from './mock-recall-page.js';

/** A recall practised once a season: a jar is drawn, the clock runs, the balance closes it. Nothing is called back. */
@Controller('recall/mock-recall')
export class PractiseController {
  @Get()
  async show(@Who() who: Visitor) {
    return page('recall/mock-recall', await practicesPage(who));
  }

  /** Draws the jar and writes that a practice began: the clock runs from that entry, whatever an address says. */
  @Post('begin')
  @For(rights['practice-recall'])
  async begin(@Who() who: Visitor, @Body() posted: Posted) {
    const begun = await beginPractice(who.book, deskOf(who, posted));
    return 'problem' in begun ? begun : seeOther(`/recall/practise/${encodeURIComponent(begun.id)}`);
  }

  @Get(':id')
  async running(@Who() who: Visitor, @Param('id') id: string) {
    const told = await runningPage(who, id);
    return 'problem' in told ? told : page('recall/mock-recall', told);
  }

  @Post(':id')
  @For(rights['practice-recall'])
  async close(@Who() who: Visitor, @Param('id') id: string, @Body() posted: Posted) {
    const answer = await closed(who, id, posted);
    if (!('problem' in answer)) return seeOther('/recall/practise', answer.notes);
    const told = await runningPage(who, id, { posted, ...answer });
    return 'problem' in told ? told : page('recall/mock-recall', told, statusFor(answer.problem));
  }
}

async function closed(who: Visitor, id: string, posted: Posted): Promise<Refusal | { notes: string[] }> {
  const shelf = one(posted['onShelf']);
  if (shelf !== '' && !/^\d{1,6}$/.test(shelf)) return invalid('onShelf', 'a whole number like 24', `"${shelf}"`);
  const done = await closePractice(who.book, deskOf(who, posted), id, shelf === '' ? undefined : Number(shelf));
  if ('problem' in done) return done;
  const seconds = Math.ceil(done.milliseconds / 1000);
  return { notes: [`Jar ${done.jar}, ${seconds} s: ${done.result}. It is on the season’s record.`] };
}
