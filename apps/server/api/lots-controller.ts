import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { z } from 'zod';
import type { StatusChanged } from '#libs/actions/lots/change-status.js';
import { holdLot } from '#libs/actions/lots/hold-lot.js';
import { recallLot } from '#libs/actions/lots/recall-lots.js';
import { releaseLot } from '#libs/actions/lots/release-lot.js';
import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { type Trace, traceLot } from '#libs/actions/lots/trace-lot.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { type StateExplanation, explainState } from '#libs/actions/lots/explain-state.js';
import { historyOf } from '#libs/store/log/log.js';
import { jarsOfPack } from '#libs/store/queries/lots.js';
import { recallDocument } from '#libs/actions/recall/recall-list.js';
import { callList, reachText } from '#libs/reports/recall/recall-calls.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { loadRecall } from '../screens/recall/calls-page.js';
import { RequireRole } from '../http/access.js';
import { type Download, download, type ApiSaved, apiSaved } from '../http/responses.js';
import { parseWith } from '../http/parse-with.js';
import { type Principal, CurrentPrincipal, readerOf } from '../http/principal.js';
import { historyView } from './history-view.js';
import { historyAnswer } from './answers/history-answer.js';
import { jarsAnswer, lotAnswer, markedAnswer, printedAnswer, whyAnswer } from './answers/lot-answers.js';
import { recallAnswer } from './answers/recall-answer.js';
import { traceAnswer } from './answers/trace-answer.js';
import { cardQuery, downloadLotCards } from './lot-cards.js';
import { labelBody, labelQuery, downloadLabels, printAndRecordLabels } from './lot-labels.js';
import { Describe, pdfAnswer } from './operation.js';
import { lotView } from './record-view.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const reasonBody = z
  .strictObject({ why: z.string().max(2000).describe('The reason, kept in the log') })
  .meta({ id: 'Why' });
type ReasonBody = z.infer<typeof reasonBody>;
const releaseBody = reasonBody
  .extend({
    authority: z
      .string()
      .max(2000)
      .optional()
      .describe('For products other than maple syrup: the authority that was asked'),
    askedAt: z.string().max(200).optional().describe('The date it was asked, for example 2026-04-02'),
    answer: z.string().max(2000).optional().describe('Its answer'),
  })
  .meta({ id: 'Release' });
type ReleaseBody = z.infer<typeof releaseBody>;
const recallBody = reasonBody
  .extend({
    hazard: z.string().max(2000).optional().describe('What in the jars can make somebody ill or injure them'),
    whoMayBeHurt: z.string().max(2000).optional().describe('Who is at risk'),
    whatToDo: z.string().max(2000).optional().describe('What people should do with the jars'),
  })
  .meta({ id: 'Recall' });
const jarsQuery = z.object({
  from: z.coerce.number().int().min(1).max(10_000_000).default(1),
  most: z.coerce.number().int().min(1).max(10_000).default(1000),
});

@Controller('api/lots')
export class LotsApi {
  @Get(':code')
  @Describe({ summary: 'A lot’s status and what the rules found', answers: lotAnswer })
  async one(@CurrentPrincipal() principal: Principal, @Param('code') code: string): Promise<object> {
    const lot = await lookUpLot(readerOf(principal), code);
    if (!lot) return unknown('lot', code);
    return { ...lotView(lot), state: lot.state, kind: lot.kind, at: lot.at, entry: lot.lastSeq };
  }

  @Get(':code/trace')
  @Describe({
    summary: 'Traces a jar or lot to its boils and sap, and to where its jars were sent',
    answers: traceAnswer,
  })
  trace(@CurrentPrincipal() principal: Principal, @Param('code') code: string): Promise<Trace | Refusal> {
    return principal.book.snapshot(
      (sql) =>
        traceLot(sugarhouseReader(sql, principal.writeContext.sugarhouse), code, principal.writeContext.now, {
          members: principal.readsAll,
        }),
      { rerun: true },
    );
  }

  @Get(':code/why')
  @Describe({
    summary: 'Explains a pack’s status: each hold rule with what satisfied it, and who signed',
    answers: whyAnswer,
  })
  async why(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
  ): Promise<StateExplanation | Refusal> {
    return explainState(await loadJudgingContext(principal.book.read, principal.writeContext), code);
  }

  @Get(':code/history')
  @Describe({ summary: 'Every entry about a lot, oldest first', answers: historyAnswer })
  async history(@CurrentPrincipal() principal: Principal, @Param('code') code: string): Promise<object> {
    const lot = await lookUpLot(readerOf(principal), code);
    if (!lot) return unknown('lot', code);
    return {
      lot: lot.code,
      entries: (await historyOf(readerOf(principal), lot.code)).map(historyView),
    };
  }

  @Get(':code/jars')
  @Describe({
    summary: 'The codes of a pack’s jars, in the order of their numbers',
    query: jarsQuery,
    answers: jarsAnswer,
  })
  async jars(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Query(parseWith(jarsQuery)) { from, most }: z.infer<typeof jarsQuery>,
  ): Promise<object> {
    const lot = await lookUpLot(readerOf(principal), code);
    if (lot?.kind !== 'pack') return unknown('pack', code);
    const jars: object[] = [];
    for await (const jar of jarsOfPack(readerOf(principal), lot.code, from, from + most - 1))
      jars.push({ n: jar.n, code: printedJarCode(jar.code) });
    return { lot: lot.code, jars };
  }

  @Get(':code/labels.pdf')
  @Describe({
    summary: 'Labels for a pack’s jars as a PDF, without recording a printing; refused for a held or recalled lot',
    query: labelQuery,
    answers: pdfAnswer,
  })
  labels(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Query(parseWith(labelQuery)) query: z.infer<typeof labelQuery>,
  ): Promise<Download | Refusal> {
    return downloadLabels(principal, code, query);
  }

  @Get(':code/cards.pdf')
  @Describe({
    summary: 'Neck tags and seal strips for the jars of a pack, or the card of a tray, case, shelf, vessel or held lot',
    query: cardQuery,
    answers: pdfAnswer,
  })
  cards(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Query(parseWith(cardQuery)) { card }: z.infer<typeof cardQuery>,
  ): Promise<Download | Refusal> {
    return downloadLotCards(principal, code, card);
  }

  @Post(':code/labels')
  @RequireRole(rights.labels)
  @Describe({
    summary: 'Prints labels: records the printing and returns the path of the PDF',
    body: labelBody,
    bodyExample: { stock: 'letter-30-up-66x25', from: 1, to: 12 },
    answers: printedAnswer,
    writes: true,
  })
  print(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Body(parseWith(labelBody)) body: z.infer<typeof labelBody>,
  ): Promise<ApiSaved | Refusal> {
    return printAndRecordLabels(principal, code, body);
  }

  @Get(':code/recall.pdf')
  @Describe({
    summary:
      'The recall list of a lot as a PDF: who has its jars, what is on hand, and the notice to post. Recalls nothing',
    answers: pdfAnswer,
  })
  async recallList(@CurrentPrincipal() principal: Principal, @Param('code') code: string): Promise<Download | Refusal> {
    const lot = await lookUpLot(readerOf(principal), code);
    if (!lot) return unknown('lot', code);
    const list = await recallDocument(principal.book, principal.writeContext, [lot.code], {
      members: principal.readsAll,
    });
    return 'problem' in list ? list : download(list.name, 'application/pdf', list.write);
  }

  @Post(':code/hold')
  @RequireRole(rights.mark)
  @Describe({
    summary: 'Holds a lot and every lot made from its syrup',
    body: reasonBody,
    bodyExample: { why: 'the thermometer read 4 F high' },
    answers: markedAnswer,
    writes: true,
  })
  async hold(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Body(parseWith(reasonBody)) { why }: ReasonBody,
  ) {
    return statusChangeResponse(await holdLot(principal.book, principal.writeContext, code, why));
  }

  @Post(':code/release')
  @RequireRole(rights.mark)
  @Describe({
    summary: 'Releases a held lot; refused while a hold rule still applies',
    body: releaseBody,
    bodyExample: { why: 'refilled at 186 F, seals checked' },
    answers: markedAnswer,
    writes: true,
  })
  async release(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Body(parseWith(releaseBody)) { why, ...query }: ReleaseBody,
  ) {
    const byOwner = principal.role === 'owner';
    return statusChangeResponse(
      await releaseLot(principal.book, principal.writeContext, code, why, { ...query, byOwner }),
    );
  }

  @Post(':code/recall')
  @RequireRole(rights.mark)
  @Describe({
    summary: 'Recalls a lot and every lot made from its syrup',
    body: recallBody,
    bodyExample: { why: 'mould in two jars', whatToDo: 'Do not eat it; bring it back' },
    answers: markedAnswer,
    writes: true,
  })
  async recall(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Body(parseWith(recallBody)) { why, hazard, whoMayBeHurt, whatToDo }: z.infer<typeof recallBody>,
  ) {
    const notes = { hazard: hazard ?? '', whoMayBeHurt: whoMayBeHurt ?? '', whatToDo: whatToDo ?? '' };
    return statusChangeResponse(await recallLot(principal.book, principal.writeContext, code, why, notes));
  }

  @Get(':code/recall')
  @Describe({
    summary:
      'The reach of a recall of the lot: its lots and dispatches, whom to call, and which calls were made, by whom and when',
    answers: recallAnswer,
  })
  async recallReach(@CurrentPrincipal() principal: Principal, @Param('code') code: string): Promise<object | Refusal> {
    const lot = await lookUpLot(readerOf(principal), code);
    const recall = lot && (await loadRecall(principal, [lot.code]));
    if (!lot || !recall) return unknown('lot', code);
    const { from, why, hazard, lots, sameSyrup, dispatches, plans, authorities } = recall;
    return {
      from,
      state: lot.state,
      why,
      hazard,
      reach: reachText(recall),
      lots,
      sameSyrup,
      calls: callList(recall),
      dispatches,
      plans,
      authorities,
    };
  }
}

const statusChangeResponse = (done: StatusChanged | Refusal): ApiSaved | Refusal =>
  'problem' in done
    ? done
    : apiSaved(
        `/api/lots/${encodeURIComponent(done.lot)}`,
        { ...done, outcome: done.outcome === 'again' ? 'new' : done.outcome },
        done.outcome,
      );
