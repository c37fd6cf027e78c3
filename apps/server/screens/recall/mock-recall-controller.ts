import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { beginMockRecall, closeMockRecall } from '#libs/actions/practice/mock-recall.js';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { MockRecallPage } from '#pages/recall/mock-recall.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { statusFor } from '../../forms/form-view.js';
import { writeContextOf } from '../../forms/write-record.js';
import { RequireRole } from '../../http/access.js';
import { htmlPage, redirect, pageOr } from '../../http/responses.js';
import { type Principal, CurrentPrincipal } from '../../http/principal.js';
import { mockRecallsPage, runningMockRecallPage } from './mock-recall-page.js';

/** A mock recall, once a season: a jar is drawn, the clock runs, the reconciliation closes it. Nothing is recalled. */
@Controller('recall/mock')
export class MockRecallController {
  @Get()
  async show(@CurrentPrincipal() principal: Principal) {
    return htmlPage(MockRecallPage, await mockRecallsPage(principal));
  }

  /** Picks the jar and records that a mock recall began: the clock runs from that entry, whatever the address holds. */
  @Post('begin')
  @RequireRole(rights['practice-recall'])
  async begin(@CurrentPrincipal() principal: Principal, @Body() posted: Posted) {
    const begun = await beginMockRecall(principal.book, writeContextOf(principal, posted));
    return 'problem' in begun ? begun : redirect(`/recall/mock/${encodeURIComponent(begun.id)}`);
  }

  @Get(':id')
  async running(@CurrentPrincipal() principal: Principal, @Param('id') id: string) {
    return pageOr(MockRecallPage, await runningMockRecallPage(principal, id));
  }

  @Post(':id')
  @RequireRole(rights['practice-recall'])
  async close(@CurrentPrincipal() principal: Principal, @Param('id') id: string, @Body() posted: Posted) {
    const answer = await closed(principal, id, posted);
    if (!('problem' in answer)) return redirect('/recall/mock', answer.notes);
    return pageOr(
      MockRecallPage,
      await runningMockRecallPage(principal, id, { posted, ...answer }),
      statusFor(answer.problem),
    );
  }
}

async function closed(principal: Principal, id: string, posted: Posted): Promise<Refusal | { notes: string[] }> {
  const shelf = firstText(posted['onShelf']);
  if (shelf !== '' && !/^\d{1,6}$/.test(shelf)) return invalid('onShelf', 'a whole number like 24', `"${shelf}"`);
  const done = await closeMockRecall(
    principal.book,
    writeContextOf(principal, posted),
    id,
    shelf === '' ? undefined : Number(shelf),
  );
  if ('problem' in done) return done;
  const seconds = Math.ceil(done.milliseconds / 1000);
  return { notes: [`Jar ${done.jar}, ${seconds} s: ${done.result}. Saved with the season’s records.`] };
}
