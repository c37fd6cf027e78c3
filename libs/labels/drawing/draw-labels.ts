import type { Writable } from 'node:stream';
import { withoutScaling } from './print-scaling.js';
import { newDocument } from '#libs/pdf/new-document.js';
import { sharedFace, jarDrawer } from '../content/label-images.js';
import type { Jars, LabelJar, LabelProblem } from '../content/label.js';
import { type LabelRun, settingProblem } from './label-run.js';
import type { LabelLayout } from '../layout/label-layout.js';
import { layoutRun } from '../layout/layout-run.js';
import { number, pdfPenFor, pointsPerMm } from './pen.js';
import { labelsPerPage } from '../stocks/stocks.js';
import { type PageStream, streamPages } from './stream-pages.js';

export interface LabelsDrawn {
  readonly labels: number;
  readonly pages: number;
  /** Positions used on the last sheet: where the next run may start; 0 when the sheet is full. */
  readonly endedAt: number;
  readonly layout: LabelLayout;
  readonly bytes: number;
}

/**
 * Draws a label for each jar into `out` and ends it, page by page, no faster than `out` accepts them. A problem is
 * returned as a value before a byte is written.
 */
export async function drawLabels(
  run: LabelRun,
  out: Writable,
): Promise<{ drawn: LabelsDrawn } | { problem: LabelProblem }> {
  const problem = settingProblem(run);
  if (problem) return { problem };
  const jars = asGenerator(run.jars);
  const first = await jars.next();
  if (first.done) return { problem: { kind: 'no-jars' } };
  const placed = layoutRun(run, first.value.code);
  if ('problem' in placed) {
    await jars.return(undefined);
    return placed;
  }
  const document = labelDocument(run);
  const pages = streamPages(document, out);
  const sheets = sheetsFor({ ...run, symbol: placed.symbol }, placed.layout, document, pages);
  await sheets.add(first.value);
  for await (const jar of { [Symbol.asyncIterator]: () => jars }) await sheets.add(jar);
  const ended = await sheets.finish();
  return { drawn: { ...ended, layout: placed.layout } };
}

async function* asGenerator(jars: Jars): AsyncGenerator<LabelJar, undefined> {
  yield* jars;
  return undefined;
}

function labelDocument({ stock, content, createdAt }: LabelRun): PDFKit.PDFDocument {
  const document = newDocument({
    autoFirstPage: false,
    size: [stock.pageWidthMm * pointsPerMm, stock.pageHeightMm * pointsPerMm],
    margin: 0,
    lang: content.bilingual ? 'en-CA' : 'en-US',
    displayTitle: true,
    info: {
      Title: `Labels of ${content.lot}${content.practice ? ' (PRACTICE)' : ''}`,
      Author: content.maker.name,
      Creator: 'Boilbook',
      Producer: 'Boilbook',
      CreationDate: createdAt,
    },
  });
  return withoutScaling(document);
}

interface Sheets {
  add(jar: LabelJar): Promise<void>;
  finish(): Promise<{ labels: number; pages: number; endedAt: number; bytes: number }>;
}

/** Fills one sheet after the other; a full sheet is added to the document. */
function sheetsFor(run: LabelRun, layout: LabelLayout, document: PDFKit.PDFDocument, pages: PageStream): Sheets {
  const perPage = labelsPerPage(run.stock);
  const pen = pdfPenFor(document);
  const face = sharedFace(document, layout, pen);
  const drawJar = jarDrawer(run, layout, pen);
  let position = run.skip ?? 0;
  let labels = 0;
  let pageCount = 0;
  let content = '';
  const finishPage = async (): Promise<void> => {
    document.addPage();
    Object.assign(document.page.fonts, pen.fonts());
    (document.page.xobjects as Record<string, unknown>)['Face'] = face;
    document.addContent(`1 0 0 -1 0 ${number(document.page.height)} cm\n0 g\n${content}`);
    content = '';
    position = 0;
    pageCount++;
    await pages.pageDone();
  };
  return {
    async add(jar) {
      content += drawJar(jar, position);
      labels++;
      if (++position === perPage) await finishPage();
    },
    async finish() {
      const endedAt = position;
      if (content !== '') await finishPage();
      return { labels, pages: pageCount, endedAt: endedAt % perPage, bytes: await pages.finish() };
    },
  };
}
