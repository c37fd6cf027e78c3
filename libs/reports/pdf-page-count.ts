/**
 * The y of "page x of y", which is known only when the last page has been drawn. Each page shows one shared
 * form, and the form is filled in at the end: no page has to be kept back for it.
 */
export interface PageCount {
  readonly widthPt: number;
  /** Places the number on the page being drawn, its baseline at `yPt`. */
  readonly draw: (xPt: number, yPt: number) => void;
  readonly close: (pages: number) => void;
}

const sizePt = 8;
const widthPt = 16;

export function openPageCount(doc: PDFKit.PDFDocument): PageCount {
  const inner = doc as unknown as InnerDocument;
  const form = inner.ref({ Type: 'XObject', Subtype: 'Form', BBox: [0, -4, widthPt, sizePt] });
  return {
    widthPt,
    draw: (xPt, yPt) => {
      inner.page.xobjects['PageCount'] = form;
      doc.save().transform(1, 0, 0, -1, xPt, yPt);
      inner.addContent('/PageCount Do');
      doc.restore();
    },
    close: (pages) => {
      doc.font('words').fontSize(sizePt);
      const [glyphs] = inner._font.encode(String(pages), ['tnum']);
      form.data['Resources'] = { Font: { [inner._font.id]: inner._font.ref() } };
      form.end(`BT /${inner._font.id} ${sizePt} Tf 0.36 0.33 0.28 rg 0 0 Td <${glyphs.join('')}> Tj ET`);
    },
  };
}

/** What pdfkit has but its types leave out. */
interface InnerDocument {
  readonly page: { readonly xobjects: Record<string, unknown> };
  readonly _font: {
    readonly id: string;
    encode(text: string, features: string[]): [string[], unknown];
    ref(): unknown;
  };
  ref(content: object): { data: Record<string, unknown>; end(chunk: string): void };
  addContent(text: string): void;
}
