import { Controller, Get, Param, Query, Req } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Refusal } from '#libs/actions/record/problem.js';
import { seasonDocument, seasonFormats, seasonMedia } from '#libs/actions/season/season-document.js';
import { paperNames } from '#libs/pdf/paper-size.js';
import { yearsRecorded } from '#libs/store/queries/lots.js';
import { type Download, download } from '../http/responses.js';
import { parseWith } from '../http/parse-with.js';
import { type Principal, CurrentPrincipal, readerOf } from '../http/principal.js';
import { seasonAnswer, yearsAnswer } from './answers/season-answer.js';
import { Describe } from './operation.js';

const summaryQuery = z.object({
  paper: z
    .enum(paperNames)
    .optional()
    .describe('Paper of the PDF: letter or a4. If left out, the usual one of the place'),
});

@Controller('api/seasons')
export class SeasonsApi {
  @Get()
  @Describe({ summary: 'The years with a boil or a pack', answers: yearsAnswer })
  async years(@CurrentPrincipal() principal: Principal): Promise<{ years: number[] }> {
    return { years: await yearsRecorded(readerOf(principal)) };
  }

  @Get(seasonFormats.map((format) => `:year/summary.${format}`))
  @Describe({
    summary: 'The yearly lot summary, in the format that the ending of the path names',
    description:
      'The yearly lot summary: a PDF to print, a workbook, CSV, JSON, or the events of the GS1 standard EPCIS 2.0 (jsonld).',
    query: summaryQuery,
    answers: (path) =>
      path.endsWith('.json')
        ? seasonAnswer
        : { media: seasonMedia(path.split('.').at(-1) ?? ''), text: path.endsWith('.csv') || path.endsWith('.jsonld') },
  })
  async summary(
    @CurrentPrincipal() principal: Principal,
    @Param('year') year: string,
    @Query(parseWith(summaryQuery)) { paper }: z.infer<typeof summaryQuery>,
    @Req() request: FastifyRequest,
  ): Promise<Download | Refusal> {
    const format = /\.([a-z]+)$/.exec((request.url.split('?')[0] ?? '').replace(/\/+$/, ''))?.[1] ?? '';
    const base = principal.server.settings.publicUrl;
    const made = await seasonDocument(principal.book, principal.writeContext, { year, format, base, paper });
    return 'problem' in made ? made : download(made.name, made.media, made.write);
  }
}
