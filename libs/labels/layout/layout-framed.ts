import type { PlacedText } from './fit-text.js';
import { type FramedDesign, netSettingFor } from '../content/framed-designs.js';
import { plainLook } from '../content/label-look.js';
import { compose, type Composed } from './compose.js';
import { netQuantity, type MinNetHeight } from '../content/net-quantity.js';
import { netHeights, placeNet, type NetBand, type NetSetting } from './net-band.js';
import { type SymbolChoice, symbolChoices } from '../symbol/symbol.js';
import { capHeightEm, descentEm } from '../drawing/type-faces.js';
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

/** In a framed design a large name and product matter more than the largest possible symbol. */
export function layoutFramed(job: TextJob, design: FramedDesign, least: MinNetHeight): LaidOut {
  const { content, stock } = job;
  const setting = netSettingFor(design, stock);
  const parts = netQuantity(content.container, content.country).lines;
  const net = placeNet(parts, netHeights(least.millimetres, content.country), stock, isExempt(content), setting);
  if (!net) return { unfit: [netTooLarge(least.millimetres)] };
  let items: readonly string[] = ['Symbol'];
  for (const choice of symbolChoices(job.symbolText, job.dpi, stock.labelHeightMm > 110 ? 0.8 : 0.5)) {
    const composed = compose({ ...job, look: job.look ?? plainLook }, design, { choice, net, least });
    if ('unfit' in composed) items = composed.unfit;
    else return { layout: framedLayout(job, composed, choice, { net, setting }, layoutNotes(least, choice, stock)) };
  }
  return tooMuch(items);
}

function framedLayout(
  job: TextJob,
  { composition, texts, code, logo }: Composed,
  choice: SymbolChoice,
  { net, setting }: { readonly net: NetBand; readonly setting: NetSetting },
  notes: string[],
): LabelLayout {
  const { zones, bandMm } = composition;
  return {
    ...labelBasics(job),
    texts,
    net: onAxis(net, composition.netMiddleMm, setting.marginMm, job.stock.labelWidthMm),
    symbol: { ...choice, ...composition.symbol },
    code,
    rule: composition.rule && clearLine(composition.rule, texts),
    bar: bandMm === undefined ? undefined : { heightMm: bandMm },
    frame: composition.frame,
    logo,
    practice: practiceAcross(job, zones[0]!.column),
    notes: [...(job.look?.logo && !logo ? [noRoomForLogo] : []), ...notes],
  };
}

/** The net quantity under the text, on its axis, as far as the margins allow. */
function onAxis(net: NetBand, middleMm: number | undefined, marginMm: number, labelWidthMm: number): NetBand {
  if (middleMm === undefined) return net;
  const lines = net.lines.map((line) => {
    const maxMm = labelWidthMm - marginMm - line.widthMm;
    return { ...line, xMm: Math.max(marginMm, Math.min(middleMm - line.widthMm / 2, maxMm)) };
  });
  return { ...net, lines, rightMm: Math.max(...lines.map(({ xMm, widthMm }) => xMm + widthMm)) };
}

/** The line between head and foot, lowered until no descender touches it; none where the foot begins there. */
function clearLine(line: Line, texts: readonly PlacedText[]): Line | undefined {
  const beside = texts.filter(({ xMm, widthMm }) => xMm < line.xMm + line.widthMm && xMm + widthMm > line.xMm);
  const tails = beside
    .filter(({ baselineMm }) => baselineMm <= line.yMm)
    .map(({ baselineMm, emMm }) => baselineMm + descentEm * emMm);
  const yMm = Math.max(line.yMm, ...tails.map((tail) => tail + lineClearanceMm));
  const heads = beside
    .filter(({ baselineMm }) => baselineMm > line.yMm)
    .map(({ baselineMm, emMm }) => baselineMm - capHeightEm * emMm);
  return heads.some((head) => head < yMm + lineClearanceMm) ? undefined : { ...line, yMm };
}
type Line = NonNullable<LabelLayout['rule']>;
/** Half of the line at its thickest, plus a little white space. */
const lineClearanceMm = 0.5;
