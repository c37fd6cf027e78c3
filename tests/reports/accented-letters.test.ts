import { PassThrough } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { expect, test } from '@jest/globals';
import { closePaper, openPaper, startPage, write } from '#libs/pdf/paper.js';
import { readPdf } from '../support/read-pdf.js';

/** The text of a page with this line set in bold. */
async function bold(line: string): Promise<string> {
  const title = {
    title: 'Bold',
    subject: '',
    author: '',
    footer: '',
    layout: 'portrait' as const,
    createdAt: new Date(0),
    practice: null,
  };
  const paper = openPaper(title);
  const out = new PassThrough();
  paper.doc.pipe(out);
  startPage(paper);
  write(paper, line, 72, 72, { face: 'bold' });
  closePaper(paper);
  return (await readPdf(await buffer(out))).text;
}

// A file of its own: the fonts are loaded once for all documents, and its first document must be the first of the process.
test('letters with accents in one document leave the plain letters of the next readable', async () => {
  expect(await bold('ÉÎÑÖÚ')).toContain('ÉÎÑÖÚ');
  expect(await bold('STILL OPEN IN JUNE')).toContain('STILL OPEN IN JUNE');
});
