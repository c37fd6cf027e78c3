import { Body, Controller, Param, Post, Query, Req } from '@nestjs/common';
import { rights } from '#libs/actions/accounts/rights.js';
import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Imported } from '#libs/actions/import/import-rows.js';
import { fileKinds } from '#libs/actions/kinds/registry.js';
import { type Refusal, invalid, limitSentences, refused, unknown } from '#libs/actions/record/problem.js';
import { RequireRole } from '../http/access.js';
import { requireRight } from '../http/may-write.js';
import { type ApiSaved, apiSaved } from '../http/responses.js';
import { importInProcess } from '../imports/import-process.js';
import { parseWith } from '../http/parse-with.js';
import { type Principal, CurrentPrincipal } from '../http/principal.js';
import { importedAnswer } from './answers/record-answers.js';
import { Describe } from './operation.js';

const importQuery = z.object({
  dryRun: z.enum(['yes', 'no']).default('no'),
  correct: z.string().min(1).max(2000).optional(),
});

/** A season's files, as the command line takes them. A row sent twice is one entry, so no key is needed. */
@Controller('api/imports')
export class ImportsApi {
  @Post(':kind')
  @RequireRole(rights.import, { takes: 'csv' })
  @Describe({
    summary:
      'Imports a CSV file of gatherings, boils, packs or another kind: all rows or none; every fault is listed with its line',
    query: importQuery,
    takes: { media: 'text/csv', text: true },
    answers: importedAnswer,
    writes: true,
  })
  async take(
    @CurrentPrincipal() principal: Principal,
    @Param('kind') plural: string,
    @Query(parseWith(importQuery)) { dryRun, correct }: z.infer<typeof importQuery>,
    @Body() bytes: unknown,
    @Req() request: FastifyRequest,
  ): Promise<ApiSaved | Refusal> {
    const kind = fileKinds.find((each) => each.plural === plural);
    if (!kind) return unknown('kind of file', plural);
    if (!Buffer.isBuffer(bytes))
      return invalid('body', 'a file as text/csv', request.headers['content-type'] ?? 'nothing');
    requireRight(principal, kind);
    const imported = await importInProcess(
      principal.book,
      { ...principal.writeContext, key: undefined, from: 'file' },
      kind,
      bytes,
      {
        dryRun: dryRun === 'yes',
        why: correct,
      },
    );
    return (
      importRefusal(imported) ??
      apiSaved(
        `/api/${plural}`,
        imported,
        imported.written + imported.corrected > 0 && !imported.dryRun ? 'new' : 'same',
      )
    );
  }
}

/** Why a whole file is refused: faults of its rows first, then rules of the book. */
function importRefusal({ faults, faultCount, refusals, refusalCount }: Imported): Refusal | undefined {
  if (faultCount > 0) return { problem: { kind: 'invalid', faults, inAll: faultCount } };
  if (refusalCount === 0) return undefined;
  const sentences = refusals.map((each) => `Line ${each.line}: ${each.sentence}`);
  return refused('import', limitSentences(sentences, refusalCount).join(' '));
}
