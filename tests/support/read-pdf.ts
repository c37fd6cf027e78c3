import { PassThrough } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import type { Writable } from 'node:stream';
import type { PDFDocumentProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** A run of text on the page, in points from the bottom left. */
export interface Placed {
  readonly text: string;
  readonly leftPt: number;
  readonly rightPt: number;
  readonly baselinePt: number;
  readonly sizePt: number;
}
export interface ReadPage {
  readonly widthPt: number;
  readonly heightPt: number;
  readonly text: string;
  readonly placed: readonly Placed[];
}
export interface ReadPdf {
  readonly pages: readonly ReadPage[];
  readonly text: string;
  readonly title: string;
  readonly tagged: boolean;
  readonly language: string;
  readonly bookmarks: readonly string[];
}
/** What a screen reader gets from it. */
export interface ReadTags {
  /** The roles of the structure tree, in reading order, `H1` `P` `Table` … */
  readonly roles: readonly string[];
  /** Figures of the structure tree without an alternative text. */
  readonly figuresWithoutText: number;
  /** The text in the order of the file, lines joined without separators: as a screen reader has it. */
  readonly readingOrder: string;
}

/** All bytes that a document writer produces. */
export async function bytesOf(write: (out: Writable) => Promise<void>): Promise<Buffer> {
  const out = new PassThrough();
  const [bytes] = await Promise.all([buffer(out), write(out)]);
  return bytes;
}

/** Reads a PDF back with an independent reader. */
export const readPdf = (bytes: Buffer): Promise<ReadPdf> => inReader(bytes, readText);

/** The same with its tags and drawing operations, which takes twice as long. */
export const readTaggedPdf = (bytes: Buffer): Promise<ReadPdf & ReadTags> =>
  inReader(bytes, async (doc) => ({ ...(await readText(doc)), ...(await readTags(doc)) }));

/** The reader is loaded where a PDF is read, not with each file that could. */
async function inReader<T>(bytes: Buffer, read: (doc: PDFDocumentProxy) => Promise<T>): Promise<T> {
  const { getDocument } = await import('./pdfjs.js');
  const task = getDocument({ data: new Uint8Array(bytes), verbosity: 0, isEvalSupported: false });
  const answer = await read(await task.promise);
  await task.destroy();
  return answer;
}

async function readText(doc: PDFDocumentProxy): Promise<ReadPdf> {
  const pages: ReadPage[] = [];
  for (let number = 1; number <= doc.numPages; number += 1) {
    const page = await doc.getPage(number);
    const [, , widthPt = 0, heightPt = 0] = page.view;
    const content = await page.getTextContent();
    const placed = content.items.flatMap((item): Placed[] => {
      if (!('str' in item) || item.str.trim() === '') return [];
      const [a = 1, b = 0, , d = 1, leftPt = 0, baselinePt = 0] = item.transform as number[];
      const turned = Math.abs(b) > 0.01 * Math.abs(a);
      return turned
        ? []
        : [{ text: item.str, leftPt, rightPt: leftPt + item.width, baselinePt, sizePt: Math.round(d * 100) / 100 }];
    });
    const text = content.items.map((item) => ('str' in item ? item.str + (item.hasEOL ? '\n' : '') : '')).join('');
    pages.push({ widthPt, heightPt, text, placed });
  }
  const { info } = await doc.getMetadata();
  const mark = await doc.getMarkInfo();
  const outline = (await doc.getOutline()) ?? [];
  return {
    pages,
    text: pages.map((page) => page.text).join('\n'),
    title: (info as { Title?: string }).Title ?? '',
    language: (info as { Language?: string }).Language ?? '',
    tagged: mark?.Marked === true,
    bookmarks: outline.map((item) => item.title),
  };
}

async function readTags(doc: PDFDocumentProxy): Promise<ReadTags> {
  const { OPS } = await import('./pdfjs.js');
  const roles: string[] = [];
  let figuresWithoutText = 0;
  let readingOrder = '';
  for (let number = 1; number <= doc.numPages; number += 1) {
    const page = await doc.getPage(number);
    const { fnArray, argsArray } = await page.getOperatorList();
    readingOrder += fnArray
      .map((name, at) => (name === OPS.showText ? lettersOf(argsArray[at] as Parameters<typeof lettersOf>[0]) : ''))
      .join('');
    const tree = await page.getStructTree();
    roles.push(...rolesOf(tree));
    figuresWithoutText += nodesOf(tree).filter(({ role, alt }) => role === 'Figure' && !alt?.trim()).length;
  }
  return { roles, figuresWithoutText, readingOrder: readingOrder.replace(/ +/g, ' ') };
}

/** The letters of one text operation; the other operands are distances. */
const lettersOf = ([shown]: [readonly ({ readonly unicode?: string } | number)[]]): string =>
  shown.map((one) => (typeof one === 'number' ? '' : (one.unicode ?? ''))).join('');

interface StructNode {
  readonly role?: string;
  readonly alt?: string;
  readonly children?: readonly StructNode[];
}
function nodesOf(tree: unknown): StructNode[] {
  const node = tree as StructNode | null;
  return node ? [node, ...(node.children ?? []).flatMap(nodesOf)] : [];
}
const rolesOf = (tree: unknown): string[] =>
  nodesOf(tree).flatMap(({ role }) => (role && role !== 'Root' ? [role] : []));

/** Pairs of texts that overlap on one line, and texts that leave the page: should be none. */
export function overruns(page: ReadPage, edgePt = 20): readonly string[] {
  const found: string[] = [];
  for (const one of page.placed) {
    if (
      one.leftPt < edgePt ||
      one.rightPt > page.widthPt - edgePt ||
      one.baselinePt < edgePt ||
      one.baselinePt > page.heightPt - 8
    )
      found.push(`leaves the page: ${one.text}`);
    for (const other of page.placed)
      if (
        other !== one &&
        other.baselinePt === one.baselinePt &&
        other.leftPt > one.leftPt &&
        other.leftPt < one.rightPt - 0.6
      )
        found.push(`${one.text} | ${other.text}`);
  }
  return found;
}
