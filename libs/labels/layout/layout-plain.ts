import { designs, type Plan } from '../content/designs.js';
import { fitText, type PlacedLine, type PlacedText, type TextToPlace } from './fit-text.js';
import type { DesignName, Unfit } from '../content/label.js';
import type { FramedDesign } from '../content/framed-designs.js';
import { displayFace, type LabelLook, plainLook } from '../content/label-look.js';
import { fitted } from './compose.js';
import { codeStyle, labelText } from '../content/label-text.js';
import { netQuantity, type MinNetHeight } from '../content/net-quantity.js';
import { netHeights, placeNet, type NetBand } from './net-band.js';
import { practiceText } from '../content/practice-mark.js';
import type { Stock } from '../stocks/stocks.js';
import { type SymbolChoice, symbolChoices } from '../symbol/symbol.js';
import { capHeightEm, descentEm, widthEm } from '../drawing/type-faces.js';
import type { LabelLayout, LaidOut } from './label-layout.js';
import {
  isExempt,
  layoutNotes,
  netTooLarge,
  noRoomForLogo,
  labelBasics,
  practiceAcross,
  tooMuch,
  type TextJob,
} from './layout-parts.js';

export type PlainDesign = Exclude<DesignName, FramedDesign>;

/**
 * Tries symbols from the best level and size down, and sets the text as large as the room beside it allows; nothing
 * goes below its least height and nothing is clipped.
 */
export function layoutPlain(job: TextJob, design: PlainDesign, least: MinNetHeight): LaidOut {
  const { content, stock } = job;
  const net = placeNet(
    netQuantity(content.container, content.country).lines,
    netHeights(least.millimetres, content.country),
    stock,
    isExempt(content),
  );
  if (!net) return { unfit: [netTooLarge(least.millimetres)] };
  const choices = symbolChoices(job.symbolText, job.dpi, maxModuleMm(stock));
  let unfit: Unfit[] = [{ item: 'Symbol', because: 'its text is longer than a symbol of this size can hold' }];
  for (const choice of choices) {
    for (const plan of designs[design](stock, choice, net).flatMap((each) => withLogo(each, job.look))) {
      const placed = fillPlan(job, plan, least);
      if ('unfit' in placed) unfit = placed.unfit;
      else return { layout: assemble(job, plan, choice, net, placed, layoutNotes(least, choice, stock)) };
    }
  }
  return { unfit };
}

/** With a drawing, the column gives up space on its left where enough is left for the text; else it stays as it was. */
function withLogo(plan: Plan, look: LabelLook | undefined): Plan[] {
  if (!look?.logo) return [plan];
  const { column } = plan;
  const widthMm = Math.min(column.widthMm * 0.26, column.heightMm * 0.7, 30);
  const rest = { ...column, xMm: column.xMm + widthMm + 2, widthMm: column.widthMm - widthMm - 2 };
  const box = { xMm: column.xMm, yMm: column.yMm, widthMm, heightMm: Math.min(column.heightMm, widthMm * 1.3) };
  return widthMm < 6 ? [plan] : [{ ...plan, column: rest, logo: fitted(look.logo, box) }, plan];
}

/** On a larger label the symbol may grow, up to about a quarter of the label's height. */
const maxModuleMm = (stock: Stock): number =>
  Math.min(0.9, Math.max(0.5, Math.min(stock.labelHeightMm, stock.labelWidthMm) / 85));

interface FilledPlan {
  readonly lines: PlacedText[];
  readonly code: PlacedText;
  readonly ruleMm: number | undefined;
}

function fillPlan(
  { content, practiceAsLine, look = plainLook }: TextJob,
  plan: Plan,
  least: MinNetHeight,
): FilledPlan | { unfit: Unfit[] } {
  const toPlace = withLook(labelText(content, least.millimetres), look);
  const code = codeStyle(content.country === 'CA');
  const codeText: TextToPlace = { item: 'Jar code', text: 'WWWW-WWWW', ...code, sharesLine: 'where it fits' };
  const head = plan.bar ? fitText(toPlace.maker.slice(0, 1).map(nameInBar), plan.bar.column) : { lines: [] };
  if ('tooMuch' in head) return tooMuch(head.tooMuch);
  const maker = plan.bar ? toPlace.maker.slice(1) : toPlace.maker;
  const lot = [
    ...toPlace.lot,
    ...(plan.codeBelowSymbol ? [] : [codeText]),
    ...(practiceAsLine ? [practiceText(code.minLetterMm)] : []),
  ];
  const order = plan.makerLast ? [...toPlace.text, ...maker.map(withGap), ...lot] : [...maker, ...toPlace.text, ...lot];
  const body = fitText(order, plan.column);
  if ('tooMuch' in body) return tooMuch(body.tooMuch);
  const placed = placeColumn(body.lines, plan);
  const lines = [
    ...head.lines.map((line) => ({ ...offsetLine(line, plan.bar!.xMm, plan.bar!.yMm), paper: true })),
    ...placed.lines.map((line) => (/^(Maker|Product)/.test(line.item) ? { ...line, tinted: true } : line)),
  ];
  const found = lines.find(({ item }) => item === 'Jar code') ?? plan.codeBelowSymbol?.(code);
  if (!found) return { unfit: [{ item: 'Jar code', because: 'there is no room for it under the symbol' }] };
  return { lines: lines.filter((line) => line !== found), code: found, ruleMm: placed.ruleMm };
}

/** The maker's name and the product in the look's typeface; unchanged in the plain one. */
function withLook(toPlace: ReturnType<typeof labelText>, look: LabelLook): ReturnType<typeof labelText> {
  if (look.typeface === 'plain') return toPlace;
  const withTypeface = (wanted: TextToPlace): TextToPlace =>
    wanted.item === 'Maker' || wanted.item.startsWith('Product')
      ? { ...wanted, face: displayFace(wanted.item === 'Maker' ? 'semi' : 'heavy', look) }
      : wanted;
  return { ...toPlace, maker: toPlace.maker.map(withTypeface), text: toPlace.text.map(withTypeface) };
}

const withGap = (wanted: TextToPlace, index: number): TextToPlace =>
  index === 0 ? { ...wanted, gapBeforeMm: 1.4 } : wanted;
const nameInBar = (wanted: TextToPlace): TextToPlace => ({ ...wanted, emMm: wanted.emMm * 1.4 });

const offsetLine = (line: PlacedLine, xMm: number, yMm: number): PlacedText => ({
  ...line,
  xMm: line.xMm + xMm,
  baselineMm: line.baselineMm + yMm,
});

/**
 * The lot code goes to the column's foot, the text to its head; the rule is between, a little nearer to the lot code.
 */
function placeColumn(lines: readonly PlacedLine[], plan: Plan): { lines: PlacedText[]; ruleMm: number | undefined } {
  const { column } = plan;
  const packed = lines.findIndex(({ item }) => item === 'Packed date');
  // On a low label the packed date is at the end of the line above the lot code.
  const first = lines[packed - 1]?.baselineMm === lines[packed]!.baselineMm ? packed + 1 : packed;
  const lastLine = lines.at(-1)!;
  const slackMm = Math.max(0, column.heightMm - lastLine.baselineMm - 0.22 * lastLine.emMm);
  const lotTopMm = lines[first]!.baselineMm - capHeightEm * lines[first]!.emMm + slackMm;
  const above = lines.slice(0, first).map(({ baselineMm, emMm }) => baselineMm + descentEm * emMm);
  const roomMm = lotTopMm - Math.max(0, ...above);
  return {
    lines: lines.map((line, index) => offsetLine(line, column.xMm, column.yMm + (index >= first ? slackMm : 0))),
    ruleMm: roomMm < minRuleRoomMm ? undefined : column.yMm + lotTopMm - Math.min(1.3, roomMm * 0.5),
  };
}

/** The rule at its thickest, and as much again above and below. */
const minRuleRoomMm = 0.8;

function assemble(
  job: TextJob,
  plan: Plan,
  choice: SymbolChoice,
  net: NetBand,
  filled: FilledPlan,
  notes: string[],
): LabelLayout {
  const { column } = plan;
  return {
    ...labelBasics(job),
    texts: filled.lines,
    net,
    symbol: { ...choice, ...plan.symbol },
    code: { ...filled.code, item: 'Jar code', widthMm: widthEm('0000-0000', filled.code.face) * filled.code.emMm },
    rule:
      filled.ruleMm === undefined ? undefined : { xMm: column.xMm, yMm: filled.ruleMm, widthMm: column.widthMm * 0.96 },
    bar: plan.bar && { heightMm: plan.bar.heightMm },
    frame: [],
    logo: plan.logo,
    practice: practiceAcross(job, column),
    notes: [...(job.look?.logo && !plan.logo ? [noRoomForLogo] : []), ...notes],
  };
}
