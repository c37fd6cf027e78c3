import { cylinderPanelMm2 } from '#libs/syrup/labelling/type-height.js';
import { designs, type Plan } from '../content/designs.js';
import { fitText, type PlacedLine, type PlacedText, type Wish } from './fit-text.js';
import type { DesignName, LabelContent, PrinterDpi, Unfit } from '../content/label.js';
import { type Box, type FramedDesign, framedDesigns, netSettingFor } from '../content/framed-designs.js';
import { displayFace, type LabelLook, plainLook } from '../content/label-look.js';
import { compose, type Composed, fitted } from './compose.js';
import type { Shape } from './frames.js';
import { codeWish, labelText } from '../content/label-text.js';
import { netQuantity, netQuantityLeast, type NetLeast } from '../content/net-quantity.js';
import { netHeights, placeNet, type NetBand } from './net-band.js';
import { practiceMark, type PracticeMark, practiceWish } from '../content/practice-mark.js';
import type { Stock } from '../stocks/stocks.js';
import { type SymbolChoice, symbolChoices } from '../symbol/symbol.js';
import { capHeightEm, descentEm, widthEm } from '../drawing/type-faces.js';

/** A label's face: everything placed in millimetres from its top left corner. */
export interface LabelLayout {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly cornerMm: number;
  readonly isOval: boolean;
  readonly texts: readonly PlacedText[];
  readonly net: NetBand;
  readonly symbol: PlacedSymbol;
  /** Where each jar's own code goes; its text is the printed form, `K7QM-3XWT`. */
  readonly code: PlacedText;
  /** A hairline that narrows as sap does, above the lot, where there is room between the lines. */
  readonly taper: { readonly xMm: number; readonly yMm: number; readonly widthMm: number } | undefined;
  /** A bar of ink behind the maker's name, where the design has one. */
  readonly bar: { readonly heightMm: number } | undefined;
  /** Lines round the words, where the design has them. */
  readonly frame: readonly Shape[];
  readonly look: LabelLook;
  /** Where the maker's own drawing goes, where there is one and room for it. */
  readonly logo: Box | undefined;
  readonly practice: PracticeMark | undefined;
  /** What was taken for granted, in sentences. */
  readonly notes: readonly string[];
}

export interface PlacedSymbol extends SymbolChoice {
  /** Corner of the dark modules; the quiet zone lies outside it. */
  readonly xMm: number;
  readonly yMm: number;
}

export interface LabelJob {
  readonly content: LabelContent;
  readonly stock: Stock;
  readonly dpi: PrinterDpi;
  readonly design?: DesignName | undefined;
  readonly look?: LabelLook | undefined;
  /** What one jar's symbol will say: every jar's is as long. */
  readonly symbolText: string;
}

/**
 * Places a label's content, or says what does not fit. In a practice book PRACTICE has a place of its own; only where
 * there is no room for it does it go across the words. The words about keeping, which no rule asks for, are left out
 * before a label is refused, and that is said.
 */
export function layoutLabel(
  job: LabelJob,
  least: NetLeast = netQuantityLeast(job.content),
): { layout: LabelLayout } | { unfit: Unfit[] } {
  if (!job.content.practice) return layoutWords(job, least);
  const apart = layoutWords({ ...job, practiceApart: true }, least);
  return 'layout' in apart ? apart : layoutWords(job, least);
}

interface WordsJob extends LabelJob {
  /** PRACTICE stands among the words, not across them. */
  readonly practiceApart?: boolean;
}

function layoutWords(job: WordsJob, least: NetLeast): { layout: LabelLayout } | { unfit: Unfit[] } {
  const whole = layoutAll(job, least);
  if ('layout' in whole || job.content.keep === '') return whole;
  const { keepFr: _keepFr, ...content } = job.content;
  const shorter = layoutAll({ ...job, content: { ...content, keep: '' } }, least);
  if ('unfit' in shorter) return whole;
  const formatted = `Left out for want of room: “${job.content.keep}”`;
  return { layout: { ...shorter.layout, notes: [formatted, ...shorter.layout.notes] } };
}

/**
 * The symbol is tried from the best level and size down, and the words are set as large as the room beside it allows;
 * nothing goes below its least height and nothing is clipped.
 */
function layoutAll(job: WordsJob, least: NetLeast): { layout: LabelLayout } | { unfit: Unfit[] } {
  const { content, stock } = job;
  const design = designOn(stock, job.design ?? 'ledger');
  if (isFramed(design)) return layoutFramed(job, design, least);
  const net = placeNet(
    netQuantity(content.container, content.country).lines,
    netHeights(least.millimetres, content.country),
    stock,
    isLetOff(content),
  );
  if (!net) return { unfit: [netTooLarge(least.millimetres)] };
  const choices = symbolChoices(job.symbolText, job.dpi, mostModuleMm(stock));
  let unfit: Unfit[] = [{ item: 'Symbol', because: 'its text is longer than a symbol of this size can hold' }];
  for (const choice of choices) {
    for (const plan of designs[design](stock, choice, net).flatMap((each) => withLogo(each, job.look))) {
      const placed = fillPlan(job, plan, least);
      if ('unfit' in placed) unfit = placed.unfit;
      else return { layout: finish(job, plan, choice, net, placed, notes(least, choice, stock)) };
    }
  }
  return { unfit };
}

/** A round label has its own layout, and a straight one has no ring. */
function designOn({ shape }: Stock, design: DesignName): DesignName {
  if (shape === 'oval') return 'lid';
  return design === 'lid' ? 'squat' : design;
}

const isFramed = (design: DesignName): design is FramedDesign => framedDesigns.some((each) => each === design);

/** The same in a frame: a generous name and product matter more there than the largest symbol. */
function layoutFramed(
  job: WordsJob,
  design: FramedDesign,
  least: NetLeast,
): { layout: LabelLayout } | { unfit: Unfit[] } {
  const { content, stock } = job;
  const setting = netSettingFor(design, stock);
  const parts = netQuantity(content.container, content.country).lines;
  const net = placeNet(parts, netHeights(least.millimetres, content.country), stock, isLetOff(content), setting);
  if (!net) return { unfit: [netTooLarge(least.millimetres)] };
  let items: readonly string[] = ['Symbol'];
  for (const choice of symbolChoices(job.symbolText, job.dpi, stock.labelHeightMm > 110 ? 0.8 : 0.5)) {
    const composed = compose({ ...job, look: job.look ?? plainLook }, design, { choice, net, least });
    if ('unfit' in composed) items = composed.unfit;
    else return { layout: framed(job, composed, choice, net, notes(least, choice, stock)) };
  }
  return tooMuch(items);
}

function framed(
  job: WordsJob,
  { composition, texts, code, logo }: Composed,
  choice: SymbolChoice,
  net: NetBand,
  formatted: string[],
): LabelLayout {
  const { stock, content } = job;
  const { zones, bandMm } = composition;
  return {
    widthMm: stock.labelWidthMm,
    heightMm: stock.labelHeightMm,
    cornerMm: stock.cornerMm,
    isOval: stock.shape === 'oval',
    texts,
    net,
    symbol: { ...choice, ...composition.symbol },
    code,
    taper: composition.taper && clearLine(composition.taper, texts),
    bar: bandMm === undefined ? undefined : { heightMm: bandMm },
    frame: composition.frame,
    look: job.look ?? plainLook,
    logo,
    practice: content.practice && !job.practiceApart ? practiceMark(zones[0]!.column) : undefined,
    notes: [...(job.look?.logo && !logo ? [noPlaceForLogo] : []), ...formatted],
  };
}

const noPlaceForLogo = 'Your drawing is left out: this label has no room for it';

/** With a drawing the column gives way at its left, where enough is left for the words; else it stays as it was. */
function withLogo(plan: Plan, look: LabelLook | undefined): Plan[] {
  if (!look?.logo) return [plan];
  const { column } = plan;
  const widthMm = Math.min(column.widthMm * 0.26, column.heightMm * 0.7, 30);
  const rest = { ...column, xMm: column.xMm + widthMm + 2, widthMm: column.widthMm - widthMm - 2 };
  const box = { xMm: column.xMm, yMm: column.yMm, widthMm, heightMm: Math.min(column.heightMm, widthMm * 1.3) };
  return widthMm < 6 ? [plan] : [{ ...plan, column: rest, logo: fitted(look.logo, box) }, plan];
}

/** 21 CFR 101.7(f): only a panel that was measured, and found to be 5 in² or less, is let off the bottom 30 %. */
function isLetOff({ country, panel }: LabelContent): boolean {
  if (country !== 'US' || !panel) return false;
  const areaMm2 = panel.areaMm2 ?? cylinderPanelMm2(panel.heightMm, panel.diameterMm);
  return areaMm2 <= 5 * 25.4 ** 2 + 1e-6;
}

function netTooLarge(leastMm: number): Unfit {
  return {
    item: 'Net quantity',
    because: `its letters must be ${leastMm.toFixed(1)} mm high or more, in the bottom 30 % of the label: take a larger label`,
  };
}

/** On a larger label the symbol may grow, up to a quarter of the label's height or so. */
const mostModuleMm = (stock: Stock): number =>
  Math.min(0.9, Math.max(0.5, Math.min(stock.labelHeightMm, stock.labelWidthMm) / 85));

interface Filled {
  readonly lines: PlacedText[];
  readonly code: PlacedText;
  readonly taperMm: number | undefined;
}

function fillPlan(
  { content, practiceApart, look = plainLook }: WordsJob,
  plan: Plan,
  least: NetLeast,
): Filled | { unfit: Unfit[] } {
  const wishes = inLook(labelText(content, least.millimetres), look);
  const code = codeWish(content.country === 'CA');
  const inColumn: Wish = { item: 'Jar code', text: 'WWWW-WWWW', ...code, joins: 'gladly' };
  const head = plan.bar ? fitText(wishes.maker.slice(0, 1).map(nameInBar), plan.bar.column) : { lines: [] };
  if ('tooMuch' in head) return tooMuch(head.tooMuch);
  const maker = plan.bar ? wishes.maker.slice(1) : wishes.maker;
  const lot = [
    ...wishes.lot,
    ...(plan.codeBelowSymbol ? [] : [inColumn]),
    ...(practiceApart ? [practiceWish(code.leastLetterMm)] : []),
  ];
  const order = plan.makerLast ? [...wishes.words, ...maker.map(setOff), ...lot] : [...maker, ...wishes.words, ...lot];
  const body = fitText(order, plan.column);
  if ('tooMuch' in body) return tooMuch(body.tooMuch);
  const prepared = settle(body.lines, plan);
  const lines = [
    ...head.lines.map((line) => ({ ...moved(line, plan.bar!.xMm, plan.bar!.yMm), paper: true })),
    ...prepared.lines.map((line) => (/^(Maker|Product)/.test(line.item) ? { ...line, tinted: true } : line)),
  ];
  const found = lines.find(({ item }) => item === 'Jar code') ?? plan.codeBelowSymbol?.(code);
  if (!found) return { unfit: [{ item: 'Jar code', because: 'there is no room for it under the symbol' }] };
  return { lines: lines.filter((line) => line !== found), code: found, taperMm: prepared.taperMm };
}

/** The maker's name and the product in the look's typeface; plain they stay as they are. */
function inLook(wishes: ReturnType<typeof labelText>, look: LabelLook): ReturnType<typeof labelText> {
  if (look.typeface === 'plain') return wishes;
  const dressed = (wish: Wish): Wish =>
    wish.item === 'Maker' || wish.item.startsWith('Product')
      ? { ...wish, face: displayFace(wish.item === 'Maker' ? 'semi' : 'heavy', look) }
      : wish;
  return { ...wishes, maker: wishes.maker.map(dressed), words: wishes.words.map(dressed) };
}

const setOff = (wish: Wish, index: number): Wish => (index === 0 ? { ...wish, gapBeforeMm: 1.4 } : wish);
const nameInBar = (wish: Wish): Wish => ({ ...wish, emMm: wish.emMm * 1.4 });

function tooMuch(items: readonly string[]): { unfit: Unfit[] } {
  const because = 'there is no room left at a height that can be read: shorten it or take a larger label';
  if (items.length <= 3) return { unfit: items.map((item) => ({ item, because })) };
  return { unfit: [{ item: `The text as a whole (${items.join(', ').toLowerCase()})`, because }] };
}

const moved = (line: PlacedLine, xMm: number, yMm: number): PlacedText => ({
  ...line,
  xMm: line.xMm + xMm,
  baselineMm: line.baselineMm + yMm,
});

/** The lot sinks to the column's foot, the words stay at its head; the taper lies between, a little nearer to the lot. */
function settle(lines: readonly PlacedLine[], plan: Plan): { lines: PlacedText[]; taperMm: number | undefined } {
  const { column } = plan;
  const packed = lines.findIndex(({ item }) => item === 'Packed date');
  // On a low label the packed date stands at the end of the line above the lot.
  const first = lines[packed - 1]?.baselineMm === lines[packed]!.baselineMm ? packed + 1 : packed;
  const lastLine = lines.at(-1)!;
  const slackMm = Math.max(0, column.heightMm - lastLine.baselineMm - 0.22 * lastLine.emMm);
  const lotTopMm = lines[first]!.baselineMm - capHeightEm * lines[first]!.emMm + slackMm;
  const above = lines.slice(0, first).map(({ baselineMm, emMm }) => baselineMm + descentEm * emMm);
  const roomMm = lotTopMm - Math.max(0, ...above);
  return {
    lines: lines.map((line, index) => moved(line, column.xMm, column.yMm + (index >= first ? slackMm : 0))),
    taperMm: roomMm < leastTaperRoomMm ? undefined : column.yMm + lotTopMm - Math.min(1.3, roomMm * 0.5),
  };
}

/** The line between head and foot, lowered until no tail of a letter touches it; none where the foot begins there. */
function clearLine(line: Line, texts: readonly PlacedText[]): Line | undefined {
  const beside = texts.filter(({ xMm, widthMm }) => xMm < line.xMm + line.widthMm && xMm + widthMm > line.xMm);
  const tails = beside
    .filter(({ baselineMm }) => baselineMm <= line.yMm)
    .map(({ baselineMm, emMm }) => baselineMm + descentEm * emMm);
  const yMm = Math.max(line.yMm, ...tails.map((tail) => tail + besideLineMm));
  const heads = beside
    .filter(({ baselineMm }) => baselineMm > line.yMm)
    .map(({ baselineMm, emMm }) => baselineMm - capHeightEm * emMm);
  return heads.some((head) => head < yMm + besideLineMm) ? undefined : { ...line, yMm };
}
type Line = NonNullable<LabelLayout['taper']>;
/** Half of the line at its thickest, and a little white. */
const besideLineMm = 0.3;

/** The taper at its thickest, and as much again above and below. */
const leastTaperRoomMm = 0.8;

function finish(
  job: WordsJob,
  plan: Plan,
  choice: SymbolChoice,
  net: NetBand,
  filled: Filled,
  formatted: string[],
): LabelLayout {
  const { stock, content } = job;
  const { column } = plan;
  return {
    widthMm: stock.labelWidthMm,
    heightMm: stock.labelHeightMm,
    cornerMm: stock.cornerMm,
    isOval: stock.shape === 'oval',
    texts: filled.lines,
    net,
    symbol: { ...choice, ...plan.symbol },
    code: { ...filled.code, item: 'Jar code', widthMm: widthEm('0000-0000', filled.code.face) * filled.code.emMm },
    taper:
      filled.taperMm === undefined
        ? undefined
        : { xMm: column.xMm, yMm: filled.taperMm, widthMm: column.widthMm * 0.96 },
    bar: plan.bar && { heightMm: plan.bar.heightMm },
    frame: [],
    look: job.look ?? plainLook,
    logo: plan.logo,
    practice: content.practice && !job.practiceApart ? practiceMark(column) : undefined,
    notes: [...(job.look?.logo && !plan.logo ? [noPlaceForLogo] : []), ...formatted],
  };
}

function notes(net: { source: string; panelSource: string }, choice: SymbolChoice, stock: Stock): string[] {
  return [
    `Net quantity: ${net.panelSource}; ${net.source}`,
    ...(choice.level === 'Q'
      ? []
      : [`The symbol is at level ${choice.level}: there was no room for level Q, which stands more dirt`]),
    ...(stock.roll
      ? ['Direct-thermal labels fade in light and warmth: choose thermal transfer for jars that are kept']
      : []),
    'Labels go on when the jars have cooled and their seals are checked',
    'The maker checks the label against local rules before it is used',
  ];
}
