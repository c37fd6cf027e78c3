import { artifact, closeSection, openSection, paragraph } from './pdf-flow.js';
import { ink, makeRoom, write, type Paper } from './pdf-paper.js';
import { table, type TableColumn } from './pdf-table.js';
import type { Authority, Caution, Person, Season } from './season.js';

/** Code or word, and what it stands for. */
export interface KeyLine {
  readonly code: string;
  readonly means: string;
}

/** The key to the codes, the same in the PDF and in the sheet. */
export function keyLines(season: Season): readonly KeyLine[] {
  return [
    { code: 'G041', means: 'A gathering of sap, or what a neighbour or supplier brought: its own id.' },
    { code: '26077A', means: 'A boil: year, day of the year it began, a letter in order.' },
    { code: '26077A-1', means: 'A pack drawn from that boil, first run.' },
    { code: '26081X-1', means: 'A pack blended from several lots: year, day packed, X, run.' },
    {
      code: 'K7QM-3XWT',
      means: 'One jar: seven characters and a check (ISO/IEC 7064 MOD 37-2), never I, L, O or U.',
    },
    { code: 'open', means: 'No rule stopped it; it may be sent out.' },
    { code: 'held', means: 'Stopped by a rule or a person; it may not be sent out.' },
    { code: 'released', means: 'Was held and was let go, by whom and why stands with it.' },
    { code: 'recalled', means: 'Called back from wherever it went.' },
    { code: 'unaccounted', means: 'Made, less on hand, sent out, destroyed and other; known once jars are counted.' },
    ...season.people.map((person) => ({ code: person.initials, means: `${person.name}, ${person.role}` })),
    ...season.side.instruments.map((one) => ({ code: one.id, means: `${one.kind}: ${one.description}` })),
  ];
}

export async function drawKey(paper: Paper, season: Season): Promise<void> {
  const section = openSection(paper, 'Key to the codes', { needsPt: 90 });
  await table(section, keyTable, keyLines(season));
  closeSection(section);
}

const keyTable: readonly TableColumn<KeyLine>[] = [
  { heading: 'Code', of: (line) => line.code, face: 'boldCode' },
  { heading: 'Stands for', of: (line) => line.means },
];

/** Cautions with their sources, and whom to ask. */
export async function drawWhomToAsk(paper: Paper, season: Season): Promise<void> {
  const section = openSection(paper, 'Cautions, and whom to ask', { needsPt: 80 });
  paragraph(
    section,
    `Judged by the rules of ${season.house.rulesName}. Local codes and licensed practice come before this book; ` +
      'the text of a rule may have changed since it was read.',
  );
  if (season.cautions.length > 0) await table(section, cautionTable, season.cautions);
  if (season.authorities.length > 0) await table(section, authorityTable, season.authorities);
  closeSection(section);
}

const cautionTable: readonly TableColumn<Caution>[] = [
  { heading: 'Caution', of: (caution) => caution.words },
  { heading: 'Source', of: (caution) => caution.source },
];
const authorityTable: readonly TableColumn<Authority>[] = [
  { heading: 'Ask', of: (authority) => authority.name, face: 'bold' },
  { heading: 'About', of: (authority) => authority.asksAbout },
  { heading: 'At', of: (authority) => authority.contact ?? '' },
];

export function drawSignatures(paper: Paper, season: Season): void {
  const section = openSection(paper, 'Signatures', { needsPt: 150 });
  const closed = season.closed;
  paragraph(
    section,
    closed
      ? `The season was closed on ${closed.at.slice(0, 10)} by ${nameOf(closed.by, season.people)}.`
      : 'The season is not closed yet.',
  );
  for (const who of ['For the sugarhouse', 'Inspector']) {
    makeRoom(paper, 48);
    paper.yPt += 34;
    section.element.add(
      paper.doc.struct('P', {}, () => {
        write(paper, `${who}, name and signature`, paper.leftPt, paper.yPt + 11, { sizePt: 8, colour: ink.soft });
        write(paper, 'Date', paper.leftPt + dateAtPt, paper.yPt + 11, { sizePt: 8, colour: ink.soft });
      }),
    );
    artifact(paper, () => {
      const left = paper.leftPt;
      paper.doc.moveTo(left, paper.yPt).lineTo(left + 300, paper.yPt);
      paper.doc.moveTo(left + dateAtPt, paper.yPt).lineTo(left + dateAtPt + 120, paper.yPt);
      paper.doc.lineWidth(0.8).strokeColor(ink.black).stroke();
    });
    paper.yPt += 14;
  }
  closeSection(section);
}

const dateAtPt = 330;

const nameOf = (initials: string, people: readonly Person[]): string =>
  people.find((person) => person.initials === initials)?.name ?? initials;
