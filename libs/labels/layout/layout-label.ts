import type { DesignName } from '../content/label.js';
import { type FramedDesign, framedDesigns } from '../content/framed-designs.js';
import { minNetHeight, type MinNetHeight } from '../content/net-quantity.js';
import type { Stock } from '../stocks/stocks.js';
import { labelText } from '../content/label-text.js';
import type { LabelJob, LabelLayout, LaidOut } from './label-layout.js';
import { layoutFramed } from './layout-framed.js';
import type { TextJob } from './layout-parts.js';
import { layoutPlain } from './layout-plain.js';

/**
 * Places a label's content, or returns what does not fit. In a practice book PRACTICE has a place of its own; it is set
 * across the text only where there is no room. The storage advice, which no rule requires, is omitted before a label is
 * refused, and a note says so.
 */
export function layoutLabel(job: LabelJob, least: MinNetHeight = minNetHeight(job.content)): LaidOut {
  if (!job.content.practice) return layoutText(job, least);
  const withPracticeLine = layoutText({ ...job, practiceAsLine: true }, least);
  return 'layout' in withPracticeLine ? withPracticeLine : layoutText(job, least);
}

function layoutText(job: TextJob, least: MinNetHeight): LaidOut {
  const complete = layoutOnce(job, least);
  if ('layout' in complete || job.content.keep === '') return complete;
  const { keepFr: _keepFr, ...content } = job.content;
  const shorter = layoutOnce({ ...job, content: { ...content, keep: '' } }, least);
  if ('unfit' in shorter) return complete;
  const note = `Left out, as there is no room: “${job.content.keep}”`;
  return { layout: { ...shorter.layout, notes: [note, ...shorter.layout.notes] } };
}

function layoutOnce(job: TextJob, least: MinNetHeight): LaidOut {
  const design = designFor(job.stock, job.design ?? 'ledger');
  const laid = isFramed(design) ? layoutFramed(job, design, least) : layoutPlain(job, design, least);
  return 'layout' in laid ? { layout: noteOmittedTexts(laid.layout, job, least) } : laid;
}

/** Notes which optional texts the layout omitted, so that the maker can choose a larger label. */
function noteOmittedTexts(layout: LabelLayout, { content }: TextJob, least: MinNetHeight): LabelLayout {
  const { maker, text: words } = labelText(content, least.millimetres);
  const placed = new Set(layout.texts.map(({ item }) => item));
  const missing = [...maker, ...words].filter(({ item, optional }) => optional && !placed.has(item));
  return {
    ...layout,
    notes: [...missing.map(({ text }) => `Left out, as there is no room: “${text}”`), ...layout.notes],
  };
}

/** A round label has its own layout, and a rectangular one has no ring. */
function designFor({ shape }: Stock, design: DesignName): DesignName {
  if (shape === 'oval') return 'lid';
  return design === 'lid' ? 'squat' : design;
}

const isFramed = (design: DesignName): design is FramedDesign => framedDesigns.some((each) => each === design);
