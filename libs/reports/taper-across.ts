import {
  cutWords,
  halfWidthPt,
  nameWords,
  nodesAt,
  readingWords,
  stages,
  type Stage,
  type Taper,
  type TaperEnd,
  type TaperNode,
  type TaperPlaces,
  type TaperWords,
} from './taper-layout.js';

const linePt = 11;
const sizePt = { stage: 7.5, name: 8, reading: 9.5 } as const;
/** Room beside the first stage, and beside the last for the places where it went. */
const edgePt = { across: { left: 6, right: 152 }, small: { left: 2, right: 3 } } as const;

/** Stages from left to right at even steps; several lots of a stage lie above one another in lanes. */
export function placeAcross(taper: Taper, shape: 'across' | 'small', lengthPt: number): TaperPlaces {
  const edge = edgePt[shape];
  const stepPt = (lengthPt - edge.left - edge.right) / (stages.length - 1);
  const spans = stages.map((stage) => spanOf(taper, stage, shape));
  const abovePt = Math.max(...spans.map((span) => span.abovePt));
  const belowPt = Math.max(...spans.map((span) => span.belowPt));
  const top = shape === 'small' ? 1.5 : 18;
  const middle = top + abovePt;
  const ends = new Map<string, TaperEnd>();
  const words: TaperWords[] = [];
  stages.forEach((stage, column) => {
    const xPt = edge.left + column * stepPt;
    const nodes = nodesAt(taper, stage);
    const gapPt = laneGapPt(taper, stage, shape);
    nodes.forEach((node, lane) => {
      const yPt = middle + (lane - (nodes.length - 1) / 2) * gapPt;
      const end = { xPt, yPt, halfPt: halfWidthPt(node.millilitres, shape) };
      ends.set(node.id, end);
      if (shape === 'across') words.push(...wordsBeside(node, end, stepPt));
    });
    if (shape === 'across')
      words.push({
        xPt,
        yPt: 8,
        text: stage,
        sizePt: sizePt.stage,
        anchor: column === 0 ? 'left' : 'centre',
        kind: 'stage',
      });
  });
  return {
    ends,
    words,
    page: { widthPt: lengthPt, heightPt: middle + belowPt + (shape === 'small' ? 1.5 : 4) },
    turn: { fromPt: edge.left, toPt: edge.left + stepPt },
  };
}

function spanOf(taper: Taper, stage: Stage, shape: 'across' | 'small'): { abovePt: number; belowPt: number } {
  const nodes = nodesAt(taper, stage);
  const lanesPt = (Math.max(0, nodes.length - 1) / 2) * laneGapPt(taper, stage, shape);
  const first = nodes[0];
  const last = nodes.at(-1);
  if (!first || !last) return { abovePt: 2, belowPt: 2 };
  const readingsPt = shape === 'small' ? 0 : first.knots.length * linePt + 2;
  const namePt = shape === 'small' ? 0 : linePt + 3;
  return {
    abovePt: lanesPt + halfWidthPt(first.millilitres, shape) + readingsPt,
    belowPt: lanesPt + halfWidthPt(last.millilitres, shape) + namePt,
  };
}

/** The stages that one boil passes in a straight line share their lanes. */
const boilStages: readonly Stage[] = ['boiled', 'filtered', 'resting'];

function laneGapPt(taper: Taper, stage: Stage, shape: 'across' | 'small'): number {
  const alike = boilStages.includes(stage) ? boilStages : [stage];
  const nodes = alike.flatMap((one) => nodesAt(taper, one));
  const widest = Math.max(0, ...nodes.map((node) => halfWidthPt(node.millilitres, shape)));
  if (shape === 'small') return Math.max(3, widest + 1);
  if (stage === 'sent out') return Math.max(2 * widest + 3, linePt + 2);
  const readings = Math.max(0, ...nodes.map((node) => node.knots.length));
  return 2 * widest + (readings + 1) * linePt + 8;
}

/** Readings stand above the line and names below it; at the far end names stand beyond it. */
function wordsBeside(node: TaperNode, end: TaperEnd, stepPt: number): TaperWords[] {
  const first = node.stage === 'gathered';
  const xPt = end.xPt;
  const anchor = first ? 'left' : 'centre';
  const readings = node.knots.map((knot, index): TaperWords => {
    const yPt = end.yPt - end.halfPt - 4 - (node.knots.length - 1 - index) * linePt;
    const text = cutWords(readingWords(knot), sizePt.reading, stepPt - 6);
    return { xPt, yPt, text, sizePt: sizePt.reading, anchor, kind: knot.stops ? 'stop' : 'reading' };
  });
  const name = nameWords(node);
  if (name === '') return readings;
  if (node.stage === 'sent out') {
    const text = cutWords(name, sizePt.name, edgePt.across.right - 8);
    return [...readings, { xPt: xPt + 7, yPt: end.yPt + 3, text, sizePt: sizePt.name, anchor: 'left', kind: 'name' }];
  }
  const text = cutWords(name, sizePt.name, stepPt - 6);
  return [...readings, { xPt, yPt: end.yPt + end.halfPt + linePt, text, sizePt: sizePt.name, anchor, kind: 'name' }];
}
