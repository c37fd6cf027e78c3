import type { Writable } from 'node:stream';
import { Controller, Get, Param, Query, Req } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { yearsKept } from '#libs/store/queries/lots.js';
import { addressSymbol } from '#libs/labels/symbol/address-symbol.js';
import { drawCharts } from '#libs/reports/charts/charts.js';
import { type PaperName, paperNames, paperSize } from '#libs/pdf/paper-size.js';
import { readSeason } from '#libs/actions/season/read-season.js';
import { seasonCsv } from '#libs/reports/season/csv.js';
import { seasonJsonLd } from '#libs/reports/epcis/season-epcis.js';
import { seasonJson } from '#libs/reports/season/json.js';
import { writeSeasonPdf } from '#libs/reports/season/pdf.js';
import { writeSeasonXlsx } from '#libs/reports/season/xlsx.js';
import type { Season } from '#libs/reports/season/season.js';
import { type Download, download } from '../http/responses.js';
import { parseWith } from '../http/parse-with.js';
import { type Principal, CurrentPrincipal, readerOf } from '../http/principal.js';
import { seasonSnapshot } from '../http/season-snapshot.js';
import { seasonAnswer, yearsAnswer } from './answers/season-answer.js';
import { Describe } from './operation.js';

const summaryQuery = z.object({
  paper: z.enum(paperNames).optional().describe('Of the PDF: letter or a4; that of the place where it is left out'),
});

@Controller('api/seasons')
export class SeasonsApi {
  @Get()
  @Describe({ summary: 'The years in which anything was boiled or packed', answers: yearsAnswer })
  async years(@CurrentPrincipal() principal: Principal): Promise<{ years: number[] }> {
    return { years: await yearsKept(readerOf(principal)) };
  }

  @Get(['pdf', 'xlsx', 'csv', 'json', 'jsonld'].map((ending) => `:year/summary.${ending}`))
  @Describe({
    summary: 'The yearly lot summary, by the ending of its address',
    description:
      'The yearly lot summary: a PDF to print, a workbook, CSV, JSON, or the events of the GS1 standard EPCIS 2.0.',
    query: summaryQuery,
    answers: (path) =>
      path.endsWith('.json')
        ? seasonAnswer
        : { media: mediaOf(path), text: path.endsWith('.csv') || path.endsWith('.jsonld') },
  })
  async summary(
    @CurrentPrincipal() principal: Principal,
    @Param('year') year: string,
    @Query(parseWith(summaryQuery)) { paper }: z.infer<typeof summaryQuery>,
    @Req() request: FastifyRequest,
  ): Promise<Download | Refusal> {
    const ending = /\.([a-z]+)$/.exec((request.url.split('?')[0] ?? '').replace(/\/+$/, ''))?.[1] ?? '';
    if (paper !== undefined && ending !== 'pdf')
      return invalid('paper', 'no paper for a file of figures', `"${paper}"`);
    return seasonDownload(principal, year, ending, paper);
  }
}

/** The yearly lot summary as a file to keep: read in one view of the book, written as it is drawn. */
export async function seasonDownload(
  principal: Principal,
  year: string,
  ending: string,
  paper?: PaperName,
): Promise<Download | Refusal> {
  const file = files[ending];
  if (!/^20\d\d$/.test(year)) return invalid('year', 'a year like 2026', `"${year}"`);
  if (!file) return invalid('ending', `one of ${Object.keys(files).join(', ')}`, `"${ending}"`);
  const season = await seasonSnapshot(principal, (reader, context) => readSeason(reader, Number(year), context));
  return download(`season-${year}.${ending}`, file.type, (out) => file.write(season, out, principal, paper));
}

/** Leads to the inspector's view; none where nobody set an address that others can open. */
function inspectorSymbol(season: Season, principal: Principal) {
  const address = principal.server.settings.publicUrl || season.house.publicUrl;
  return address ? addressSymbol(`${address}/season/${season.year}`) : undefined;
}

interface SeasonFile {
  readonly type: string;
  readonly write: (season: Season, out: Writable, principal: Principal, paper?: PaperName) => Promise<void>;
}
const text =
  (make: (season: Season, principal: Principal) => string): SeasonFile['write'] =>
  async (season, out, principal) =>
    void out.end(make(season, principal));

const mediaOf = (path: string): string => (files[path.split('.').at(-1) ?? '']?.type ?? '').split(';')[0] ?? '';

const files: Readonly<Record<string, SeasonFile>> = {
  pdf: {
    type: 'application/pdf',
    write: async (season, out, principal, paper) =>
      writeSeasonPdf(season, out, {
        createdAt: principal.writeContext.now,
        size: paperSize(paper, season.house),
        pictures: await drawCharts(season, 'paper'),
        symbol: inspectorSymbol(season, principal),
      }),
  },
  xlsx: {
    type: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
    write: (season, out, principal) => writeSeasonXlsx(season, out, principal.writeContext.now),
  },
  csv: { type: 'text/csv; charset=utf-8', write: text(seasonCsv) },
  json: { type: 'application/json; charset=utf-8', write: text(seasonJson) },
  jsonld: {
    type: 'application/ld+json; charset=utf-8',
    write: text((season, { writeContext: context, server: { settings } }) =>
      seasonJsonLd(season, { createdAt: context.now, ...(settings.publicUrl ? { base: settings.publicUrl } : {}) }),
    ),
  },
};
