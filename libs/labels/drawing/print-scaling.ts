import { viewerPreferences } from '#libs/pdf/pdfkit-internals.js';

/**
 * Asks the print dialogue not to scale: a sheet fitted to the page misses its labels (PDF 32000-1, table 150,
 * PrintScaling). pdfkit has no option for it and accepts only viewer preferences that it knows.
 */
export function withoutScaling(document: PDFKit.PDFDocument): PDFKit.PDFDocument {
  viewerPreferences(document)['PrintScaling'] = 'None';
  return document;
}
