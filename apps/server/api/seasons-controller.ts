import type { Writable } from 'node:stream';
import { Controller, Get, Param, Query, Req } from '@nestjs/common';
import { ApiOperation, ApiTags } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import { invalid, type Refusal } from '#libs/actions/record/problem.js';
import { seasonGround } from '#libs/actions/season/season-context.js';
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
import { type Visitor, Who } from '../http/principal.js';
import { asksInQuery } from './json-schema.js';

const summaryQuery = z.object({
  paper: z.enum(paperNames).optional().describe('Of the PDF: letter or a4; that of the place where it is left out'),
});

@ApiTags('seasons')
@Controller('api/seasons')
export class SeasonsApi {
  @Get()
  @ApiOperation({ summary: 'The years in which anything was boiled or packed' })
  async years(@Who() who: Visitor): Promise<{ years: number[] }> {
    return { years: await yearsKept(who.book.read, who.desk.sugarhouse) };
  }

  @Get(['pdf', 'xlsx', 'csv', 'json', 'jsonld'].map((ending) => `:year/summary.${ending}`))
  @ApiOperation({ summary: 'The yearly lot summary, by the ending of its address' })
  @asksInQuery(summaryQuery)
  async summary(
    @Who() who: Visitor,
    @Param('year') year: string,
    @Query(parseWith(summaryQuery)) { paper }: z.infer<typeof summaryQuery>,
    @Req() request: FastifyRequest,
  ): Promise<Download | Refusal> {
    const ending = /\.([a-z]+)$/.exec((request.url.split('?')[0] ?? '').replace(/\/+$/, ''))?.[1] ?? '';
    if (paper !== undefined && ending !== 'pdf')
      return invalid('paper', 'no paper for a file of figures', `"${paper}"`);
    return seasonDownload(who, year, ending, paper);
  }
}

/** The yearly lot summary as a file to keep: read in one view of the book, written as it is drawn. */
export async function seasonDownload(
  who: Visitor,
  year: string,
  ending: string,
  paper?: PaperName,
): Promise<Download | Refusal> {
  const file = files[ending];
  if (!/^20\d\d$/.test(year)) return invalid('year', 'a year like 2026', `"${year}"`);
  if (!file) return invalid('ending', `one of ${Object.keys(files).join(', ')}`, `"${ending}"`);
  const season = await who.book.snapshot(
    async (sql) => readSeason(sql, who.desk.sugarhouse, Number(year), await seasonGround(sql, who.desk)),
    { rerun: true },
  );
  return download(`season-${year}.${ending}`, file.type, (out) => file.write(season, out, who, paper));
}

/** Leads to the inspector's view; none where nobody set an address that others can open. */
function inspectorSymbol(season: Season, who: Visitor) {
  const address = who.server.settings.publicUrl || season.house.publicUrl;
  return address ? addressSymbol(`${address}/season/${season.year}`) : undefined;
}

interface SeasonFile {
  readonly type: string;
  readonly write: (season: Season, out: Writable, who: Visitor, paper?: PaperName) => Promise<void>;
}
const text =
  (make: (season: Season, who: Visitor) => string): SeasonFile['write'] =>
  async (season, out, who) =>
    void out.end(make(season, who));

const files: Readonly<Record<string, SeasonFile>> = {
  pdf: {
    type: 'application/pdf',
    write: async (season, out, who, paper) =>
      writeSeasonPdf(season, out, {
        createdAt: who.desk.now,
        size: paperSize(paper, season.house),
        pictures: await drawCharts(season, 'paper'),
        symbol: inspectorSymbol(season, who),
      }),
  },
  xlsx: {
    type: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
    write: (season, out, who) => writeSeasonXlsx(season, out, who.desk.now),
  },
  csv: { type: 'text/csv; charset=utf-8', write: text(seasonCsv) },
  json: { type: 'application/json; charset=utf-8', write: text(seasonJson) },
  jsonld: {
    type: 'application/ld+json; charset=utf-8',
    write: text((season, { desk, server: { settings } }) =>
      seasonJsonLd(season, { createdAt: desk.now, ...(settings.publicUrl ? { base: settings.publicUrl } : {}) }),
    ),
  },
};
