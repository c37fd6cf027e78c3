import { pageDictionary, selectedFont } from './pdfkit-internals.js';

/**
 * The "of y" of "page x of y", which is known only when the last page is drawn. All pages share one content stream at
 * their end, which is filled in last: no page has to be buffered for it.
 */
export interface PageCount {
  /** Adds the count to the page being drawn. */
  readonly addToPage: () => void;
  readonly close: (pages: number) => void;
}

const sizePt = 8;

/** The count is at `xPt` with its baseline `yPt` from the bottom, the same on every page. */
export function openPageCount(doc: PDFKit.PDFDocument, xPt: number, yPt: number): PageCount {
  const sharedStream = doc.ref({});
  return {
    addToPage: () => {
      pageDictionary(doc)['Contents'] = [doc.page.content, sharedStream];
      const font = selectedFont(doc.font('figures'));
      (doc.page.fonts as Record<string, unknown>)[font.id] ??= font.ref();
    },
    close: (pages) => {
      const font = selectedFont(doc.font('figures').fontSize(sizePt));
      const [glyphs] = font.encode(` of ${pages}`);
      // Pages of this document use coordinates from the top down; text has to be flipped back.
      sharedStream.end(
        `/Artifact <</Type /Pagination>> BDC q 1 0 0 -1 0 ${doc.page.height} cm BT 0.36 0.33 0.28 rg ` +
          `/${font.id} ${sizePt} Tf 1 0 0 1 ${xPt} ${yPt} Tm <${glyphs.join('')}> Tj ET Q EMC`,
      );
    },
  };
}
