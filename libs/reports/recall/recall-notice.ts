import { asSentence } from '#libs/format/as-sentence.js';
import { closeSection, openSection, type Section } from '#libs/pdf/flow.js';
import { ink, makeRoom, write, type Paper } from '#libs/pdf/paper.js';
import type { Recall } from './recall.js';
import { day } from '#libs/format/format.js';

/** A notice to post where jars were sold. */
export function drawNotice(paper: Paper, recall: Recall): void {
  const section = openSection(paper, titleOf(recall), {
    newPage: true,
  });
  paper.yPt += 10;
  noticeText(section, `${recall.house.name}, ${recall.house.addressLines.join(', ')}`, 13);
  paper.yPt += 8;
  const lots = namedOn(recall);
  for (const lot of lots) {
    noticeText(section, `Lot ${lot.lot}`, lots.length > 4 ? 18 : 30, 'boldCode');
    noticeText(section, `maple syrup, ${lot.container}, packed ${day(lot.packedAt)}`, 14);
    paper.yPt += 6;
  }
  paper.yPt += 8;
  for (const text of recordedTexts(recall)) noticeText(section, text, 17, 'bold');
  paper.yPt += 8;
  for (const text of steps(recall)) {
    noticeText(section, text, 14);
    paper.yPt += 5;
  }
  paper.yPt += 10;
  noticeText(section, recall.house.telephone ?? 'Telephone: ______________________', 30, 'boldFigures');
  noticeText(section, 'Posted on: ______________ Take down on: ______________', 11);
  closeSection(section);
}

/** A draft names all lots of the list; a notice only those that are recalled. */
const namedOn = ({ lots, startedAt, notRecalled }: Recall): Recall['lots'] =>
  startedAt === null ? lots : lots.filter(({ lot }) => !notRecalled.includes(lot));

function titleOf({ practice, startedAt, hazard }: Recall): string {
  if (practice) return 'Practice notice, not to be posted';
  if (startedAt === null) return 'Draft notice, not to be posted: not recalled';
  return hazard.whatToDo === null ? 'Please bring this syrup back' : 'Recalled: do not eat this syrup';
}

/** What was recorded with the recall, as typed: its hazard, or its reason, who may be hurt, and what to do. */
const recordedTexts = ({ hazard: { hazard, whoMayBeHurt, whatToDo }, why }: Recall): readonly string[] => [
  hazard === null ? why : `Hazard: ${asSentence(hazard)}`,
  ...(whoMayBeHurt === null ? [] : [`Who may be hurt: ${asSentence(whoMayBeHurt)}`]),
  ...(whatToDo === null ? [] : [`What to do: ${asSentence(whatToDo)}`]),
];

function steps(recall: Recall): readonly string[] {
  return [
    `Look for the lot code on the label. If it is ${namedOn(recall).length === 1 ? 'this one' : 'one of these'}, do not eat the syrup and do not give it to anyone.`,
    // Where the recall recorded what to do, any other instruction here could contradict it.
    ...(recall.hazard.whatToDo === null
      ? ['Bring the jar back, opened or not, or throw it away where no person or animal can reach it.']
      : []),
    'If you have eaten some and feel unwell, ask a doctor and take this notice with you.',
    recall.practice
      ? 'THIS IS AN EXERCISE. Nothing is wrong with this syrup.'
      : 'Jars with another lot code are not part of this recall.',
  ];
}

function noticeText(
  section: Section,
  text: string,
  sizePt: number,
  face: 'words' | 'bold' | 'boldCode' | 'boldFigures' = 'words',
): void {
  const { paper } = section;
  const lines = paper.faces.wrap(text, face, sizePt, paper.widthPt);
  makeRoom(paper, lines.length * sizePt * 1.28);
  section.element.add(
    paper.doc.struct('P', {}, () => {
      for (const line of lines) {
        paper.yPt += sizePt * 1.28;
        write(paper, line, paper.leftPt, paper.yPt, { face, sizePt, colour: ink.black });
      }
    }),
  );
}
