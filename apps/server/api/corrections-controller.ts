import { Body, Controller, Post } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import { z } from 'zod';
import { correctEntry, findCorrectableRecord } from '#libs/actions/record/correct-entry.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { RequireRole } from '../http/access.js';
import { type ApiSaved, apiSaved } from '../http/responses.js';
import { requireRightToCorrect } from '../http/may-write.js';
import { parseWith } from '../http/parse-with.js';
import { type Principal, CurrentPrincipal, readerOf } from '../http/principal.js';
import { withFirstOutcome, recordedAnswer } from './answers/record-answers.js';
import { Describe } from './operation.js';

/** Each field's own length limit is checked where the field is parsed. */
const text = z.string();
const correction = z
  .strictObject({
    entry: z.union([z.number().int().min(1).max(999_999_999), z.string().max(100)]),
    why: text,
    changes: z.record(z.string().max(100), z.union([text, z.number(), z.array(text)])),
  })
  .meta({ id: 'Correction' });

@Controller('api/corrections')
export class CorrectionsApi {
  @Post()
  @RequireRole(rights.correction)
  @Describe({
    summary: 'Corrects a record; the old values stay in the history',
    body: correction,
    bodyExample: { entry: '26077A-1', why: 'counted again on the shelf', changes: { jars: '29' } },
    answers: recordedAnswer,
    writes: true,
  })
  async correct(
    @CurrentPrincipal() principal: Principal,
    @Body(parseWith(correction)) { entry, why, changes }: z.infer<typeof correction>,
  ): Promise<ApiSaved | Refusal> {
    const saved = await findCorrectableRecord(readerOf(principal), String(entry));
    if (!('problem' in saved)) requireRightToCorrect(principal, saved.kind);
    const typedChanges = Object.entries(changes).map(
      ([name, value]) => [name, [value].flat().map(String).join(';')] as const,
    );
    const done = await correctEntry(
      principal.book,
      principal.writeContext,
      String(entry),
      why,
      Object.fromEntries(typedChanges),
    );
    return 'problem' in done
      ? done
      : apiSaved(`/api/lots/${encodeURIComponent(done.id)}`, withFirstOutcome(done), done.outcome);
  }
}
