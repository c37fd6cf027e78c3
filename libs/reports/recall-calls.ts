import { artifact, closeSection, openSection, paragraph, type Section } from './pdf-flow.js';
import { breathe, ink, makeRoom, write, type Paper } from './pdf-paper.js';
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
  const left = paper.leftPt + 26;
  const right = paper.leftPt + paper.widthPt;
  const textWidth = paper.widthPt - 26 - answerWidthPt;
  const lines = paper.faces.wrap(call.sent.map(sentWords).join('; '), 'words', 9, textWidth);
  const heightPt = Math.max(46, 30 + lines.length * 12);
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
      const name = write(paper, call.to, left, top + 16, { face: 'bold', sizePt: 12 });
      const contact = call.contact ?? 'no contact written down';
      write(paper, contact, left + name + 10, top + 16, { face: call.contact ? 'boldFigures' : 'words', sizePt: 11 });
    }),
  );
  section.element.add(
    paper.doc.struct('P', {}, () =>
      lines.forEach((line, index) => write(paper, line, left, top + 30 + index * 12, { sizePt: 9 })),
    ),
  );
  drawAnswerLines(paper, right - answerWidthPt + 12, right, top);
  paper.yPt = top + heightPt;
  artifact(paper, () => {
    paper.doc.moveTo(paper.leftPt, paper.yPt).lineTo(right, paper.yPt).lineWidth(0.35).strokeColor(ink.rule).stroke();
  });
}

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

/** A dispatch by count is never laid to jar codes. */
function sentWords(sent: Dispatch): string {
  const codes = sent.jarCodes.length === 0 ? '' : ` (${sent.jarCodes.join(', ')})`;
  return `${many(sent.jars, 'jar')} of ${sent.lot}${codes}, ${sent.kind} of ${day(sent.sentAt)}`;
}
