import { createRequire } from 'node:module';
import { Writable } from 'node:stream';
import { finished } from 'node:stream/promises';
import PDFDocument from 'pdfkit';
import { drawCharts } from '#libs/reports/charts/charts.js';
import { summaryColumns } from '#libs/reports/lot/summary-columns.js';
import type { Picture } from '#libs/reports/season/pictures.js';
import { writeSeasonPdf } from '#libs/reports/season/pdf.js';
import { writeSeasonXlsx } from '#libs/reports/season/xlsx.js';
import type { Season } from '#libs/reports/season/season.js';
import { longSeason } from '../reports/tamarack-season.js';
import { seasonPeaks } from './season-peak.js';

export const name =
  'summary: a season of 500 lots and 20,000 jars as PDF, against a bare pdfkit table of the same rows and pictures';

const goals = { times: 1.5, peakMb: 300 };

export interface SummaryBench {
  readonly ratio: number;
  readonly goal: number;
  readonly lines: readonly string[];
}

/**
 * The floor draws the same 500 lots and 50 boils with `doc.table` in one plain font, untagged, and the same five
 * charts; ours draws the whole document, tagged and bookmarked. The charts are drawn to SVG beforehand for both. The
 * best of the rounds each, in turn, in one run. The ratio is the worst of speed and memory to its own goal, so the goal is 1.
 */
export async function run(rounds = 5): Promise<SummaryBench> {
  const season = longSeason(500);
  const pictures = drawCharts(season);
  const createdAt = new Date('2026-06-01T13:00:00Z');
  const best = { ours: Infinity, floor: Infinity, sheet: Infinity };
  let bytes = 0;
  for (let round = 0; round < rounds; round++) {
    const out = sink();
    best.ours = Math.min(best.ours, await milliseconds(() => writeSeasonPdf(season, out, { createdAt, pictures })));
    best.floor = Math.min(best.floor, await milliseconds(() => bareTable(season, Object.values(pictures))));
    best.sheet = Math.min(best.sheet, await milliseconds(() => writeSeasonXlsx(season, sink(), createdAt)));
    bytes = out.bytes();
  }
  const peaks = await seasonPeaks();
  const jars = season.lots.reduce((sum, lot) => sum + lot.jarsMade, 0);
  return {
    ratio: Math.max(
      best.ours / best.floor / goals.times,
      peaks.server / goals.peakMb,
      peaks.commandLine / goals.peakMb,
    ),
    goal: 1,
    lines: [
      `${season.lots.length} lots, ${jars} jars: PDF ${best.ours.toFixed(0)} ms (${Math.round(bytes / 1024)} KiB)`,
      `bare pdfkit table of the same rows and pictures ${best.floor.toFixed(0)} ms, ratio ${(best.ours / best.floor).toFixed(2)} (goal ${goals.times})`,
      `510 packs with a page each, at most: ${peaks.server.toFixed(0)} MB in a process of the server, ${peaks.commandLine.toFixed(0)} MB by book summary (goal ${goals.peakMb})`,
      `the same season as XLSX, streamed, ${best.sheet.toFixed(0)} ms`,
    ],
  };
}

async function bareTable(season: Season, pictures: readonly Picture[]): Promise<void> {
  const doc = new PDFDocument({ size: 'LETTER', layout: 'landscape', margin: 40 });
  const out = sink();
  doc.pipe(out);
  doc.fontSize(7);
  const shown = summaryColumns.filter((column) => !notOnPaper.includes(column.heading));
  const lots = season.lots.map((lot) => shown.map((column) => String(column.of(lot) ?? '')));
  doc.table({ data: [shown.map((column) => column.heading), ...lots] });
  const boils = season.boils.map((boil) => [
    ...[boil.lot, boil.beganAt, boil.finishedAt ?? '', boil.inputs.map((input) => input.code).join(', ')],
    ...[boil.sapVolumeTyped ?? '', ...boil.readings.map((reading) => reading.typed), boil.filterMedium ?? ''],
    ...[boil.defoamer ?? '', boil.defoamerAllergens ?? '', boil.syrupVolumeTyped, boil.by],
  ]);
  doc.addPage().table({ data: boils });
  for (const picture of pictures) {
    doc.addPage();
    svgToPdf(doc, picture.svg, 40, 40, { assumePt: true });
  }
  doc.end();
  await finished(out);
}

/** Columns of the sheet that the PDF leaves out. */
const notOnPaper: readonly string[] = [
  'Boils',
  'Syrup (L)',
  'Lowest fill (deg F)',
  'Sent out (jars)',
  'Colour class',
  'Findings',
  'Late entries',
  'By',
];

const svgToPdf = createRequire(import.meta.url)('svg-to-pdfkit') as (
  doc: PDFKit.PDFDocument,
  svg: string,
  xPt: number,
  yPt: number,
  options: object,
) => void;

function sink(): Writable & { bytes(): number } {
  let taken = 0;
  const out = new Writable({
    write: (chunk: Buffer, _encoding, done) => {
      taken += chunk.length;
      done();
    },
  });
  return Object.assign(out, { bytes: () => taken });
}

async function milliseconds(work: () => Promise<void>): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}
