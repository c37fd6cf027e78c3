import { Body, Controller, Post } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { findVoidableRecord, voidEntry } from '#libs/actions/record/void-entry.js';
import { z } from 'zod';
import { RequireRole } from '../http/access.js';
import { requireRightToCorrect } from '../http/may-write.js';
import { parseWith } from '../http/parse-with.js';
import { CurrentPrincipal, type Principal, readerOf } from '../http/principal.js';
import { type ApiSaved, apiSaved } from '../http/responses.js';
import { voidedAnswer } from './answers/record-answers.js';
import { Describe } from './operation.js';

const voiding = z
  .strictObject({
    entry: z
      .union([z.number().int().min(1).max(999_999_999), z.string().max(100)])
      .meta({ description: 'The number of an entry, a lot code, or the id of a record' }),
    why: z.string(),
  })
  .meta({ id: 'Void' });

@Controller('api/voids')
export class VoidsApi {
  @Post()
  @RequireRole(rights.correction)
  @Describe({
    summary: 'Voids a record of something that did not happen, such as a double entry; the log keeps it and the reason',
    body: voiding,
    bodyExample: { entry: 'D041', why: 'entered twice' },
    answers: voidedAnswer,
    writes: true,
  })
  async void(
    @CurrentPrincipal() principal: Principal,
    @Body(parseWith(voiding)) { entry, why }: z.infer<typeof voiding>,
  ): Promise<ApiSaved | Refusal> {
    const record = await findVoidableRecord(readerOf(principal), String(entry));
    if (record) requireRightToCorrect(principal, record.kind);
    const done = await voidEntry(principal.book, principal.writeContext, String(entry), why);
    if ('problem' in done) return done;
    const lot = done.lot === undefined || done.lot === done.id ? undefined : done.lot;
    const at = lot === undefined ? '/api/record' : `/api/lots/${encodeURIComponent(lot)}`;
    return apiSaved(at, { entry: done.entry, id: done.id, lot: lot ?? null, outcome: 'new' }, done.outcome);
  }
}
