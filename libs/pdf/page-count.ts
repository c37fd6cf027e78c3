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
  const inner = doc as unknown as InnerDocument;
  const sharedStream = inner.ref({});
  return {
    addToPage: () => {
      const { dictionary, content } = inner.page;
      dictionary.data['Contents'] = [content, sharedStream];
      doc.font('figures');
      inner.page.fonts[inner._font.id] ??= inner._font.ref();
    },
    close: (pages) => {
      doc.font('figures').fontSize(sizePt);
      const [glyphs] = inner._font.encode(` of ${pages}`);
      // Pages of this document use coordinates from the top down; text has to be flipped back.
      sharedStream.end(
        `/Artifact <</Type /Pagination>> BDC q 1 0 0 -1 0 ${inner.page.height} cm BT 0.36 0.33 0.28 rg ` +
          `/${inner._font.id} ${sizePt} Tf 1 0 0 1 ${xPt} ${yPt} Tm <${glyphs.join('')}> Tj ET Q EMC`,
      );
    },
  };
}

/** Parts of pdfkit that its types leave out. */
interface InnerDocument {
  readonly page: {
    readonly height: number;
    readonly content: unknown;
    readonly dictionary: { readonly data: Record<string, unknown> };
    readonly fonts: Record<string, unknown>;
  };
  readonly _font: {
    readonly id: string;
    encode(text: string): [string[], unknown];
    ref(): unknown;
  };
  ref(content: object): { end(chunk: string): void };
}
