import { Body, Controller, Post } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiTags } from '@nestjs/swagger';
import { rights } from '#libs/actions/accounts/rights.js';
import { z } from 'zod';
import { correctEntry } from '#libs/actions/record/correct-entry.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { RequireRole } from '../http/access.js';
import { type Made, made } from '../http/responses.js';
import { parseWith } from '../http/parse-with.js';
import { type Principal, CurrentPrincipal } from '../http/principal.js';
import { jsonSchema } from './json-schema.js';

/** Each field has its own limit, which is asked where it is read. */
const text = z.string();
const correction = z
  .strictObject({
    entry: z.union([z.number().int().min(1).max(999_999_999), z.string().max(100)]),
    why: text,
    changes: z.record(z.string().max(100), z.union([text, z.number(), z.array(text)])),
  })
  .meta({ id: 'Correction' });

@ApiTags('corrections')
@Controller('api/corrections')
export class CorrectionsApi {
  @Post()
  @RequireRole(rights.correction)
  @ApiOperation({ summary: 'Corrects what an entry or a lot’s record says; the old words stay in the history' })
  @ApiBody({ schema: jsonSchema(correction) })
  async correct(
    @CurrentPrincipal() principal: Principal,
    @Body(parseWith(correction)) { entry, why, changes }: z.infer<typeof correction>,
  ): Promise<Made | Refusal> {
    const label = Object.entries(changes).map(([name, value]) => [name, [value].flat().map(String).join(';')] as const);
    const done = await correctEntry(principal.book, principal.desk, String(entry), why, Object.fromEntries(label));
    return 'problem' in done
      ? done
      : made(`/api/lots/${encodeURIComponent(done.id)}`, done, done.outcome === 'corrected');
  }
}
