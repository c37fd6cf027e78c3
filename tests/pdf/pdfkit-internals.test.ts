import { describe, expect, test } from '@jest/globals';
import { newDocument } from '#libs/pdf/new-document.js';
import {
  clearLayoutCaches,
  pageDictionary,
  parentTree,
  PdfkitInternalsMoved,
  selectedFont,
  viewerPreferences,
} from '#libs/pdf/pdfkit-internals.js';

/** A tagged document with one page and a standard font selected. */
function tagged(): PDFKit.PDFDocument {
  const document = newDocument({ tagged: true });
  const root = document.struct('Document');
  document.addStructure(root);
  root.add(document.struct('P', {}, () => void document.font('Helvetica').text('sugar')));
  root.end();
  return document;
}

/** Each function that reads internals, and the property of the document whose removal it must notice. */
const readers: readonly (readonly [string, string, (document: PDFKit.PDFDocument) => unknown])[] = [
  ['_font.id', '_font', selectedFont],
  ['_fontFamilies', '_fontFamilies', clearLayoutCaches],
  ['page.dictionary.data', 'page', pageDictionary],
  ['_root.data', '_root', parentTree],
  ['_root.data', '_root', viewerPreferences],
];

describe('the installed pdfkit', () => {
  test('numbers the content of a page in its dictionary and keeps it under that number', () => {
    const document = tagged();
    const key = pageDictionary(document)['StructParents'];
    expect(key).toBe(0);
    expect(parentTree(document)?.get(0)).toHaveLength(1);
    expect(parentTree(newDocument({}))).toBeUndefined();
  });

  test('keeps viewer preferences as an object that is written with the document', () => {
    const document = newDocument({ displayTitle: true });
    viewerPreferences(document)['PrintScaling'] = 'None';
    expect(viewerPreferences(document)).toMatchObject({ DisplayDocTitle: true, PrintScaling: 'None' });
  });
});

test.each(readers)('a pdfkit without document.%s is named in the fault', (part, property, read) => {
  const document = tagged();
  Object.defineProperty(document, property, { value: undefined });
  expect(() => read(document)).toThrow(PdfkitInternalsMoved);
  expect(() => read(document)).toThrow(`pdfkit no longer has document.${part}:`);
});
