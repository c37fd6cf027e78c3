import { asSentence } from '#libs/format/as-sentence.js';
import type { Writable } from 'node:stream';
import { closeSection, openSection, paragraph } from '#libs/pdf/flow.js';
import { paperSize, type PaperSize } from '#libs/pdf/paper-size.js';
import { closePaper, ink, openPaper, startPage, write, type Paper } from '#libs/pdf/paper.js';
import { yieldWhileDrawing, streamPaper } from '#libs/pdf/stream-paper.js';
import { table, type TableColumn } from '#libs/pdf/table.js';
import { drawCalls } from './recall-calls-pdf.js';
import { drawAtHome, drawJars } from './recall-jars.js';
import { drawNotice } from './recall-notice.js';
import type { PackOfSameSyrup, Recall, RecalledLot } from './recall.js';
import type { Dispatch } from '../season/flow.js';
import { day, grouped, many, minute, named, rootText, whole } from '#libs/format/format.js';
import { drawStamp } from '../diagram/draw-stamp.js';

/**
 * A working document for a recall: the lots it reaches, where each went, whom to call with a checkbox, the balance, and
 * a notice to post. Resolves when `out` has accepted the last byte; rejects where it fails.
 */
export async function writeRecallPdf(
  recall: Recall,
  out: Writable,
  createdAt: Date,
  size: PaperSize = paperSize(undefined, recall.house),
): Promise<void> {
  const paper = openPaper({
    title: `${recall.practice ? 'Practice recall' : 'Recall'} of ${recall.from}`,
    subject: recall.why,
    author: recall.house.name,
    footer: `${recall.practice ? 'PRACTICE · ' : ''}${recall.house.name} · recall of ${recall.from} · read ${minute(recall.asOf)}`,
    createdAt,
    layout: 'portrait',
    size,
    practice: recall.practice ? 'PRACTICE: an exercise, nothing is wrong with this syrup' : null,
  });
  await streamPaper(paper, out, () => drawRecall(paper, recall));
}

async function drawRecall(paper: Paper, recall: Recall): Promise<void> {
  startPage(paper);
  drawHead(paper, recall);
  drawHazard(paper, recall);
  await drawLotsReached(paper, recall);
  await drawSameSyrup(paper, recall);
  await drawAuthorities(paper, recall);
  await yieldWhileDrawing(paper);
  startPage(paper);
  await drawCalls(paper, recall);
  await drawPlans(paper, recall);
  await drawAtHome(paper, recall);
  await drawUpstream(paper, recall);
  await yieldWhileDrawing(paper);
  await drawJars(paper, recall);
  drawNotice(paper, recall);
  closePaper(paper);
}

const startText = ({ startedAt, notRecalled, by, people }: Recall): string =>
  startedAt === null
    ? 'NOT RECALLED: this list shows what a recall would affect.'
    : `Recalled ${minute(startedAt)} by ${named(by, people)}.` +
      (notRecalled.length > 0 ? ` Not recalled: ${notRecalled.join(', ')}.` : '');

/** What is wrong, whom it may hurt and what to do with the jars: as recorded, with room to write what was not. */
function drawHazard(paper: Paper, recall: Recall): void {
  const { hazard } = recall;
  const section = openSection(paper, 'Hazard and instructions', { needsPt: 90 });
  for (const [what, text] of [
    ['Hazard', orBlank(hazard.hazard)],
    ['Who may be hurt', `${orBlank(hazard.whoMayBeHurt)} If in doubt, ask the authority or a physician.`],
    ['What to do with the jars', `${orBlank(hazard.whatToDo)} Usual practice: ${whatToDo}`],
  ] as const)
    paragraph(section, `${what}: ${text}`, { widthPt: paper.widthPt });
  closeSection(section);
}

const orBlank = (text: string | null): string =>
  text === null ? 'not recorded ______________________________________.' : asSentence(text);

/** Common practice, no source; the authority may require otherwise. */
const whatToDo =
  'stop selling and giving them, set them apart and mark them HELD, count them, and keep them until the authority ' +
  'decides whether to destroy them. Do not eat from them.';

function drawHead(paper: Paper, recall: Recall): void {
  const section = openSection(paper, `${recall.practice ? 'Practice recall' : 'Recall'} of ${recall.from}`);
  const at = { xPt: paper.leftPt + paper.widthPt - 74, yPt: paper.topPt + 4, scale: 0.62 };
  if (recall.practice || recall.startedAt !== null)
    drawStamp(paper, section.element, recall.practice ? 'PRACTICE' : 'RECALLED', '', at);
  paragraph(section, `Reason: ${recall.why}`, { face: 'bold', sizePt: 13, widthPt: paper.widthPt });
  paragraph(
    section,
    `${startText(recall)} Read from the book ${minute(recall.asOf)}.` +
      (recall.practice ? ' This is an exercise: nothing is wrong with this syrup.' : ''),
    { widthPt: paper.widthPt },
  );
  const sum = balanceOf(recall.lots);
  const numbers: readonly [string, string][] = [
    [whole(sum.jarsMade), 'jars made'],
    [whole(sum.jarsSentOut), 'sent out'],
    [whole(sum.jarsOnHand), 'on hand'],
    [sum.unaccounted === null ? '–' : whole(sum.unaccounted), sum.unaccounted === null ? 'not counted' : 'unaccounted'],
  ];
  const baseline = paper.yPt + 36;
  numbers.forEach(([number, text], index) =>
    section.element.add(
      paper.doc.struct('P', {}, () => {
        const xPt = paper.leftPt + (index * paper.widthPt) / numbers.length;
        write(paper, number, xPt, baseline, { face: 'boldFigures', sizePt: 34 });
        write(paper, text, xPt, baseline + 14, { sizePt: 10, colour: ink.soft });
      }),
    ),
  );
  paper.yPt = baseline + 24;
  closeSection(section);
}

export interface Balance {
  readonly jarsMade: number;
  readonly jarsOnHand: number;
  readonly jarsSentOut: number;
  readonly jarsDestroyed: number;
  readonly jarsOther: number;
  /** Null where no lot was counted; else the known part. */
  readonly unaccounted: number | null;
}

/** Made = on hand + sent out + destroyed + other + unaccounted, over all lots. */
export function balanceOf(lots: readonly RecalledLot[]): Balance {
  const sum = (of: (lot: RecalledLot) => number): number => lots.reduce((total, lot) => total + of(lot), 0);
  return {
    jarsMade: sum((lot) => lot.jarsMade),
    jarsOnHand: sum((lot) => lot.jarsOnHand),
    jarsSentOut: sum((lot) => lot.jarsSentOut),
    jarsDestroyed: sum((lot) => lot.jarsDestroyed),
    jarsOther: sum((lot) => lot.jarsOther),
    unaccounted: lots.some((lot) => lot.unaccounted !== null) ? sum((lot) => lot.unaccounted ?? 0) : null,
  };
}

async function drawLotsReached(paper: Paper, recall: Recall): Promise<void> {
  const section = openSection(paper, 'Lots affected and reconciliation of jars', { needsPt: 80 });
  if (recall.lots.length === 0) paragraph(section, `No pack was drawn from ${recall.from}.`);
  else {
    await table(section, lotTable, [...recall.lots, totalLine(recall.lots)]);
    paragraph(section, balanceSentence(balanceOf(recall.lots)), { widthPt: paper.widthPt });
  }
  closeSection(section);
}

const lotTable: readonly TableColumn<RecalledLot>[] = [
  { heading: 'Lot', of: (lot) => lot.lot, face: 'boldCode' },
  { heading: 'Packed', of: (lot) => day(lot.packedAt), face: 'figures' },
  { heading: 'Container', of: (lot) => lot.container },
  { heading: 'Why it is listed', of: (lot) => lot.boundBy },
  { heading: 'Made', of: (lot) => whole(lot.jarsMade), align: 'right' },
  { heading: 'Sent out', of: (lot) => whole(lot.jarsSentOut), align: 'right' },
  { heading: 'On hand', of: (lot) => whole(lot.jarsOnHand), align: 'right' },
  { heading: 'Destroyed', of: (lot) => whole(lot.jarsDestroyed), align: 'right' },
  { heading: 'Other', of: (lot) => whole(lot.jarsOther), align: 'right' },
  {
    heading: 'Unaccounted for',
    of: (lot) => (lot.unaccounted === null ? 'not counted' : whole(lot.unaccounted)),
    align: 'right',
  },
];

const totalLine = (lots: readonly RecalledLot[]): RecalledLot => ({
  lot: 'Total',
  packedAt: '',
  container: '',
  boundBy: '',
  ...balanceOf(lots),
});

function balanceSentence(sum: Balance): string {
  const known = sum.jarsOnHand + sum.jarsSentOut + sum.jarsDestroyed + sum.jarsOther;
  const arithmetic =
    `${whole(sum.jarsMade)} made; ${whole(sum.jarsOnHand)} on hand + ${whole(sum.jarsSentOut)} sent out + ` +
    `${whole(sum.jarsDestroyed)} destroyed + ${whole(sum.jarsOther)} kept, samples, broken or returned = ${whole(known)}`;
  if (sum.unaccounted === null) return `${arithmetic}. The shelf has not been counted: count it now.`;
  if (known + sum.unaccounted !== sum.jarsMade)
    return `${arithmetic}, ${whole(sum.unaccounted)} unaccounted for: the numbers do not add up. Count again.`;
  if (sum.unaccounted < 0)
    return `${arithmetic}: ${whole(-sum.unaccounted)} more than were made. Count again, and check the number made.`;
  return `${arithmetic}, ${whole(sum.unaccounted)} unaccounted for.`;
}

/** Packs that the list leaves out although they were filled from the same syrup: a person decides about them. */
async function drawSameSyrup(paper: Paper, { sameSyrup }: Recall): Promise<void> {
  if (sameSyrup.length === 0) return;
  const section = openSection(paper, 'Packed from the same syrup, not on this list', { needsPt: 80 });
  paragraph(section, 'If the cause was in the syrup, their jars have it too: decide about each.', {
    widthPt: paper.widthPt,
  });
  await table(section, sameSyrupTable, sameSyrup);
  closeSection(section);
}

const sameSyrupTable: readonly TableColumn<PackOfSameSyrup>[] = [
  { heading: 'Lot', of: (pack) => pack.lot, face: 'boldCode' },
  { heading: 'Packed', of: (pack) => day(pack.packedAt), face: 'figures' },
  { heading: 'From', of: (pack) => pack.sources.join(' and ') },
  { heading: 'Made', of: (pack) => whole(pack.jarsMade), align: 'right' },
  { heading: 'Status', of: (pack) => pack.state },
];

async function drawPlans(paper: Paper, recall: Recall): Promise<void> {
  if (recall.plans.length === 0) return;
  const section = openSection(paper, 'Planned dispatches to cancel', { needsPt: 60 });
  await table(section, planTable, recall.plans);
  closeSection(section);
}

const planTable: readonly TableColumn<Dispatch>[] = [
  { heading: 'Planned for', of: (plan) => minute(plan.sentAt), face: 'figures' },
  { heading: 'To', of: (plan) => plan.to, face: 'bold' },
  { heading: 'Lot', of: (plan) => plan.lot, face: 'boldCode' },
  { heading: 'Jars', of: (plan) => whole(plan.jars), align: 'right' },
  {
    heading: 'Call',
    of: (plan) => [plan.telephone, plan.contact].filter(Boolean).join(', ') || 'telephone not recorded',
  },
];

async function drawUpstream(paper: Paper, recall: Recall): Promise<void> {
  if (recall.upstream.length === 0) return;
  const section = openSection(paper, 'Boils and sap it was made from', { needsPt: 60 });
  await table(
    section,
    [
      { heading: 'Code', of: (one) => one.code, face: 'boldCode' },
      { heading: 'Description', of: (one) => one.words },
    ],
    recall.upstream,
  );
  closeSection(section);
}

async function drawAuthorities(paper: Paper, recall: Recall): Promise<void> {
  const section = openSection(paper, 'Authorities to inform, and the state of the record', { needsPt: 90 });
  paragraph(
    section,
    'Ask the authority before you post the notice: it decides whether and how a recall must be announced. Keep returned ' +
      `jars apart, count them and record them. The record has ${many(recall.record.entries, 'entry', 'entries')}, root ${grouped(recall.record.root)}. ` +
      rootText(recall.record),
    { widthPt: paper.widthPt },
  );
  if (recall.authorities.length > 0)
    await table(
      section,
      [
        { heading: 'Ask', of: (one) => one.name, face: 'bold' },
        { heading: 'About', of: (one) => one.asksAbout || 'not recorded' },
        { heading: 'Telephone', of: (one) => one.contact ?? 'not recorded ______________' },
      ],
      recall.authorities,
    );
  closeSection(section);
}
