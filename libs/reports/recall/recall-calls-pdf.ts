import { calledText, callMadeText, callsOf, returnedText, sentText, type Call } from './recall-calls.js';
import { artifact, closeSection, openSection, paragraph, type Section } from '#libs/pdf/flow.js';
import type { Face } from '#libs/pdf/faces.js';
import { ink, makeRoom, write, type TextStyle, type Paper } from '#libs/pdf/paper.js';
import { yieldWhileDrawing } from '#libs/pdf/stream-paper.js';
import type { Recall } from './recall.js';
import { many } from '#libs/format/format.js';

/** A checkbox for each call, and room to write down the answer. */
export async function drawCalls(paper: Paper, recall: Recall): Promise<void> {
  const calls = callsOf(recall);
  const section = openSection(paper, 'Whom to call', { needsPt: 110 });
  if (calls.length === 0) paragraph(section, 'No jar of these lots has left the sugarhouse.');
  else
    paragraph(
      section,
      `${many(calls.length, 'call')}, ${calls.filter((call) => call.reached).length} reached so far. Ask each how many jars are left, and ask them to set these apart. People who bought at a ` +
        'market or a stand cannot be called: post the notice there.',
      { widthPt: paper.widthPt },
    );
  for (const call of calls) {
    drawCall(section, call);
    await yieldWhileDrawing(paper);
  }
  closeSection(section);
}

function drawCall(section: Section, call: Call): void {
  const { paper } = section;
  const right = paper.leftPt + paper.widthPt;
  const lines = callLines(paper, call, paper.widthPt - boxWidthPt - answerWidthPt);
  const heightPt = Math.max(46, 8 + lines.reduce((sum, line) => sum + line.leadPt, 0));
  makeRoom(paper, Math.min(heightPt, paper.bottomPt - paper.topPt));
  const top = paper.yPt;
  section.element.add(
    paper.doc.struct('P', { alt: call.reached ? `Called: ${call.to}` : `Tick when called: ${call.to}` }, () => {
      paper.doc
        .rect(paper.leftPt + 2, top + 5, 13, 13)
        .lineWidth(1.1)
        .stroke(ink.black);
      if (call.reached)
        paper.doc
          .moveTo(paper.leftPt + 4.5, top + 11.5)
          .lineTo(paper.leftPt + 7.5, top + 15)
          .lineTo(paper.leftPt + 13, top + 7.5)
          .lineWidth(1.8)
          .stroke(ink.black);
    }),
  );
  section.element.add(
    paper.doc.struct('P', {}, () => {
      let baseline = top + 2;
      for (const { text, leadPt, style } of lines) {
        baseline += leadPt;
        write(paper, text, paper.leftPt + boxWidthPt, baseline, style);
      }
    }),
  );
  drawAnswerLines(paper, right - answerWidthPt + 12, right, top);
  paper.yPt = top + heightPt;
  artifact(paper, () => {
    paper.doc.moveTo(paper.leftPt, paper.yPt).lineTo(right, paper.yPt).lineWidth(0.35).strokeColor(ink.rule).stroke();
  });
}

interface CallLine {
  readonly text: string;
  readonly leadPt: number;
  readonly style: TextStyle;
}

/** Whom to call, at what number, and what they have, wrapped beside the room for the answer. */
function callLines(paper: Paper, call: Call, widthPt: number): readonly CallLine[] {
  const laid = (text: string, face: Face, sizePt: number, leadPt: number): CallLine[] =>
    paper.faces.wrap(text, face, sizePt, widthPt).map((line) => ({ text: line, leadPt, style: { face, sizePt } }));
  const telephone =
    call.telephone === null
      ? laid('telephone not recorded __________________', 'words', 10, 14)
      : laid(call.telephone, 'boldFigures', 12, 15);
  return [
    ...laid(`${calledText(call)}, ${many(call.jars, 'jar')}`, 'bold', 12, 14),
    ...telephone,
    ...(call.contact === null ? [] : laid(call.contact, 'bold', 10, 13)),
    ...laid([...call.sent.map(sentText), ...call.returned.map(returnedText)].join('; '), 'words', 9, 12),
    ...call.made.flatMap((made) => laid(`Called ${callMadeText(made)}`, 'bold', 9, 12)),
  ];
}

const boxWidthPt = 26;
const answerWidthPt = 150;

function drawAnswerLines(paper: Paper, left: number, right: number, top: number): void {
  artifact(paper, () => {
    ['spoke to, at', 'jars kept apart'].forEach((text, index) => {
      const y = top + 17 + index * 19;
      const width = write(paper, text, left, y, { sizePt: 8, colour: ink.soft });
      paper.doc
        .moveTo(left + width + 4, y + 1)
        .lineTo(right, y + 1)
        .lineWidth(0.5)
        .strokeColor(ink.rule)
        .stroke();
    });
  });
}
