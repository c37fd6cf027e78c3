import type { Writable } from 'node:stream';
import { withoutScaling } from './print-scaling.js';
import { newDocument } from '#libs/pdf/new-document.js';
import { breakText } from '../layout/fit-text.js';
import type { LabelProblem } from '../content/label.js';
import { number, pdfPenFor, type PdfPen, pointsPerMm } from './pen.js';
import { streamPages } from './stream-pages.js';
import type { Tag } from '../content/tags.js';
import { capHeightEm, type Face, runsOf, widthEm } from './type-faces.js';

export interface TagSheet {
  readonly tags: readonly Tag[];
  readonly page: 'letter' | 'a4';
  readonly createdAt: Date;
}

const pageMm = { letter: [215.9, 279.4], a4: [210, 297] } as const;
const marginMm = 12;

/** Two cards a sheet, one above the other, a dotted line between them to cut along. */
export async function drawTags(sheet: TagSheet, out: Writable): Promise<{ pages: number } | { problem: LabelProblem }> {
  const [firstTag] = sheet.tags;
  if (!firstTag) return { problem: { kind: 'no-jars' } };
  const problem = tagProblem(sheet.tags);
  if (problem) return { problem };
  const [widthMm, heightMm] = pageMm[sheet.page];
  const document = newDocument({
    autoFirstPage: false,
    size: [widthMm * pointsPerMm, heightMm * pointsPerMm],
    margin: 0,
    lang: 'en-US',
    info: {
      Title: `Tags of ${firstTag.code}`,
      Creator: 'Boilbook',
      Producer: 'Boilbook',
      CreationDate: sheet.createdAt,
    },
  });
  withoutScaling(document);
  const stream = streamPages(document, out);
  const pen = pdfPenFor(document);
  let pages = 0;
  for (let index = 0; index < sheet.tags.length; index += 2) {
    const halfMm = heightMm / 2;
    const cards = sheet.tags
      .slice(index, index + 2)
      .map((tag, below) => cardOperators(tag, pen, { widthMm, heightMm: halfMm, bottomMm: below === 0 ? halfMm : 0 }));
    document.addPage();
    Object.assign(document.page.fonts, pen.fonts());
    document.addContent(
      `1 0 0 -1 0 ${number(document.page.height)} cm\nq ${number(pointsPerMm)} 0 0 ${number(pointsPerMm)} 0 0 cm\n` +
        `q [0.2 1.4] 0 d 1 J 0.2 w 0 ${number(halfMm)} m ${number(widthMm)} ${number(halfMm)} l S Q\n${cards.join('')}Q`,
    );
    pages++;
    await stream.pageDone();
  }
  await stream.finish();
  return { pages };
}

function tagProblem(tags: readonly Tag[]): LabelProblem | undefined {
  const undrawable = tags.flatMap(({ code, rows }) =>
    [{ name: 'Lot', value: code }, ...rows].flatMap(({ name, value }) => {
      const characters = runsOf(value, 'words').undrawable;
      return characters.length > 0 ? [{ field: name, characters }] : [];
    }),
  );
  return undrawable.length > 0 ? { kind: 'cannot-draw', undrawable } : undefined;
}

interface Place {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly bottomMm: number;
}

/** Lays out from top to bottom; long words wrap, and the text shrinks until all of the card's lines fit. */
function cardOperators(tag: Tag, pen: PdfPen, place: Place): string {
  for (let scale = 1; ; scale *= 0.94) {
    const card = layoutCard(tag, pen, place, scale);
    if (card.lowestMm >= place.bottomMm + marginMm * 0.7 || scale < 0.3) return card.operators;
  }
}

function layoutCard(tag: Tag, pen: PdfPen, place: Place, scale: number): { operators: string; lowestMm: number } {
  const innerMm = place.widthMm - 2 * marginMm;
  const card: Card = { parts: ['0 g 0 G\n'], yMm: place.bottomMm + place.heightMm - marginMm, innerMm, pen };
  const codeEm = Math.min(30 * scale, (innerMm * (tag.stamp ? 0.62 : 1)) / widthEm(tag.code, 'code-bold'));
  write(card, 5 * scale, tag.practice ? `PRACTICE · ${tag.kind}` : tag.kind, 'words-bold', 6.2 * scale);
  write(card, 6 * scale + codeEm * capHeightEm, tag.code, 'code-bold', codeEm);
  if (tag.stamp) card.parts.push(stamp(tag.stamp, pen, place, card.yMm + (codeEm * capHeightEm) / 2));
  card.yMm -= 5 * scale;
  card.parts.push(rule(card));
  card.yMm -= 2 * scale;
  for (const row of tag.rows) writeRow(card, row, 6.4 * scale);
  for (const blank of tag.blanks) writeBlank(card, blank, 6.4 * scale);
  card.yMm -= 3 * scale;
  const smallMm = 4.2 * scale;
  for (const sentence of tag.lines)
    for (const text of breakText(sentence, 'words', innerMm / smallMm) ?? [sentence])
      write(card, smallMm * 1.25, text, 'words', smallMm);
  return { operators: card.parts.join(''), lowestMm: card.yMm };
}

/** A card being drawn, line by line from the top. */
interface Card {
  readonly parts: string[];
  yMm: number;
  readonly innerMm: number;
  readonly pen: PdfPen;
}

function write(card: Card, downMm: number, text: string, face: Face, emMm: number, xMm = marginMm): void {
  card.yMm -= downMm;
  card.parts.push(card.pen.text(text, face, emMm, xMm, card.yMm));
}

const nameWidthMm = 34;

function writeRow(card: Card, { name, value }: Tag['rows'][number], emMm: number): void {
  const maxEm = (card.innerMm - nameWidthMm) / emMm;
  const lines = breakText(value, 'words-semi', maxEm) ?? hardBreaks(value, maxEm);
  lines.forEach((text, index) => {
    // The name first: the order in which people read it aloud and copy it.
    write(card, emMm * 1.22, index === 0 ? name : '', 'words', emMm * 0.8);
    write(card, 0, text, 'words-semi', emMm, marginMm + nameWidthMm);
  });
}

/** A line to write on with a pen: a reading is never pre-filled. */
function writeBlank(card: Card, name: string, emMm: number): void {
  write(card, emMm * 1.9, name, 'words', emMm * 0.8);
  const fromMm = marginMm + widthEm(name, 'words') * emMm * 0.8 + 3;
  const y = number(card.yMm - 1);
  card.parts.push(`0.25 w ${number(fromMm)} ${y} m ${number(marginMm + card.innerMm)} ${y} l S\n`);
}

function rule({ yMm, innerMm }: Card): string {
  const [left, right] = [number(marginMm), number(marginMm + innerMm)];
  const at = (offMm: number): string => number(yMm + offMm);
  return `${left} ${at(0.5)} m ${right} ${at(0.08)} l ${right} ${at(-0.08)} l ${left} ${at(-0.5)} l h f\n`;
}

/** Breaks a single word wider than the card, without losing a character. */
function hardBreaks(text: string, maxEm: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const letter of text) {
    if (widthEm(line + letter, 'words-semi') > maxEm) {
      lines.push(line);
      line = '';
    }
    line += letter;
  }
  return [...lines, line];
}

/** Slightly rotated, in the red that means it must not leave; word and frame say the same in black and white. */
function stamp(word: string, pen: PdfPen, place: Place, middleMm: number): string {
  // A long word gets smaller letters, so that its frame stays beside the code.
  const emMm = Math.min(17, ((place.widthMm - 2 * marginMm) * 0.34 - 8) / widthEm(word, 'words-heavy'));
  const wideMm = widthEm(word, 'words-heavy') * emMm;
  const turn = 0.1;
  const matrix = [
    Math.cos(turn),
    Math.sin(turn),
    -Math.sin(turn),
    Math.cos(turn),
    place.widthMm - marginMm - wideMm - 8,
    middleMm - 9,
  ];
  return (
    `q 0.66 0.1 0.1 rg 0.66 0.1 0.1 RG 1.4 w ${matrix.map(number).join(' ')} cm\n` +
    `-4 -4 ${number(wideMm + 8)} ${number(emMm * capHeightEm + 8)} re S\n${pen.text(word, 'words-heavy', emMm, 0, 0)}Q\n`
  );
}
