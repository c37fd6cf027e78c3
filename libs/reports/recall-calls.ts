import { artifact, closeSection, openSection, paragraph, type Section } from './pdf-flow.js';
import type { Face } from './pdf-faces.js';
import { ink, makeRoom, write, type Mark, type Paper } from './pdf-paper.js';
import { breathe } from './pdf-send.js';
import type { Recall } from './recall.js';
import type { Dispatch } from './season-flow.js';
import { day, many } from './shown.js';

/** One place that has jars, and all that was sent there. */
export interface Call {
  readonly to: string;
  readonly contact: string | null;
  readonly jars: number;
  readonly sent: readonly Dispatch[];
}

/** Who has it: places and people that jars left for, most jars first. What stayed in the house is not called. */
export function callsOf(recall: Recall): readonly Call[] {
  const outside = recall.dispatches.filter((one) => ['sale', 'gift', 'sample'].includes(one.kind));
  const places = new Map<string, Dispatch[]>();
  for (const one of outside) places.set(one.to, [...(places.get(one.to) ?? []), one]);
  return [...places]
    .map(([to, sent]) => ({
      to,
      contact: sent.find((one) => one.contact !== null)?.contact ?? null,
      jars: sent.reduce((sum, one) => sum + one.jars, 0),
      sent,
    }))
    .sort((one, other) => other.jars - one.jars || one.to.localeCompare(other.to));
}

/** A box to tick for each call, and room to write what was said. */
export async function drawCalls(paper: Paper, recall: Recall): Promise<void> {
  const calls = callsOf(recall);
  const section = openSection(paper, 'Whom to call', { needsPt: 110 });
  if (calls.length === 0) paragraph(section, 'No jar of these lots has left the house.');
  else
    paragraph(
      section,
      `${many(calls.length, 'call')}. Ask each how many jars are left and to keep them apart. People who bought at a ` +
        'market or a stand cannot be called: post the notice there.',
      { widthPt: paper.widthPt },
    );
  for (const call of calls) {
    drawCall(section, call);
    await breathe(paper);
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
    paper.doc.struct('P', { alt: `Tick when called: ${call.to}` }, () => {
      paper.doc
        .rect(paper.leftPt + 2, top + 5, 13, 13)
        .lineWidth(1.1)
        .stroke(ink.black);
    }),
  );
  section.element.add(
    paper.doc.struct('P', {}, () => {
      let baseline = top + 2;
      for (const { text, leadPt, mark } of lines) {
        baseline += leadPt;
        write(paper, text, paper.leftPt + boxWidthPt, baseline, mark);
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
  readonly mark: Mark;
}

/** Whom, at what number, and what they have, each wrapped beside the room for the answer. */
function callLines(paper: Paper, call: Call, widthPt: number): readonly CallLine[] {
  const laid = (text: string, face: Face, sizePt: number, leadPt: number): CallLine[] =>
    paper.faces.wrap(text, face, sizePt, widthPt).map((line) => ({ text: line, leadPt, mark: { face, sizePt } }));
  const contact =
    call.contact === null ? laid('telephone not recorded', 'words', 10, 14) : laid(call.contact, 'boldFigures', 12, 15);
  return [...laid(call.to, 'bold', 12, 14), ...contact, ...laid(call.sent.map(sentWords).join('; '), 'words', 9, 12)];
}

const boxWidthPt = 26;
const answerWidthPt = 150;

function drawAnswerLines(paper: Paper, left: number, right: number, top: number): void {
  artifact(paper, () => {
    ['spoke to, at', 'jars kept apart'].forEach((words, index) => {
      const y = top + 17 + index * 19;
      const width = write(paper, words, left, y, { sizePt: 8, colour: ink.soft });
      paper.doc
        .moveTo(left + width + 4, y + 1)
        .lineTo(right, y + 1)
        .lineWidth(0.5)
        .strokeColor(ink.rule)
        .stroke();
    });
  });
}

/** A blank is never turned into a sale: a gift is called about in other words. */
export const howWords = ({ how }: Pick<Dispatch, 'how'>): string => how ?? 'how: not recorded';

/** A dispatch by count is never laid to jar codes. */
function sentWords(sent: Dispatch): string {
  const codes = sent.jarCodes.length === 0 ? '' : ` (${sent.jarCodes.join(', ')})`;
  const late = sent.alreadyLeft ? ', reported after they had left' : '';
  return `${many(sent.jars, 'jar')} of ${sent.lot}${codes}, ${howWords(sent)}, ${day(sent.sentAt)}${late}`;
}
