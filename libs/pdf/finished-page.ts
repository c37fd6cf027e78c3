import { pageDictionary, parentTree } from './pdfkit-internals.js';

/**
 * Keeps of a finished page only what the end of the document prints of it. pdfkit keeps the whole object of each piece
 * of tagged content until then, to name it in the parent tree: some 15 MB for 500 pages of tables, and V8 lets
 * unused memory grow with what is kept. Changes nothing of
 * the document's bytes; a page with content still open is left as it is.
 */
export function releaseFinishedPage(doc: PDFKit.PDFDocument): void {
  const key = pageDictionary(doc)['StructParents'];
  const tree = parentTree(doc);
  if (typeof key !== 'number' || tree === undefined) return;
  const pieces = tree.get(key);
  if (!Array.isArray(pieces) || pieces.includes(null)) return;
  tree.add(key, Object.freeze(new PrintedReferences(`[${pieces.join(' ')}]`)));
}

/** pdfkit writes what is no plain object as its text. Frozen, it faults where content is added to the page after all. */
class PrintedReferences {
  constructor(private readonly text: string) {}
  get [Symbol.toStringTag](): string {
    return 'Printed';
  }
  toString(): string {
    return this.text;
  }
}
