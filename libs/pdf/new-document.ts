import { createRequire } from 'node:module';
import type PDFDocument from 'pdfkit';

const load = createRequire(import.meta.url);

/**
 * A new PDF document. pdfkit is loaded when the first one is made: loading it takes a tenth of a server's start, and
 * most commands draw no document. `import()` would make whatever measures a text asynchronous.
 */
export function newDocument(options: PDFKit.PDFDocumentOptions): PDFKit.PDFDocument {
  const Document = load('pdfkit') as typeof PDFDocument;
  return new Document(options);
}
