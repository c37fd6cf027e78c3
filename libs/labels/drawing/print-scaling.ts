/**
 * Asks the print dialogue not to scale: a label sheet that is fitted to the page misses its stickers (PDF 32000-1, table
 * 150, PrintScaling). pdfkit writes the viewer's preferences and takes only its own.
 */
export function withoutScaling(document: PDFKit.PDFDocument): PDFKit.PDFDocument {
  const { _root: root } = document as unknown as {
    _root: { data: { ViewerPreferences?: { data: Record<string, unknown> } } };
  };
  const preferences = (root.data.ViewerPreferences ??= document.ref({}) as unknown as {
    data: Record<string, unknown>;
  });
  preferences.data['PrintScaling'] = 'None';
  return document;
}
