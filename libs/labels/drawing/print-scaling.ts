/**
 * Asks the print dialogue not to scale: a sheet fitted to the page misses its labels (PDF 32000-1, table 150,
 * PrintScaling). pdfkit has no option for it and accepts only viewer preferences that it knows.
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
