import {
  cutWords,
  halfWidthPt,
  nameWords,
  nodesAt,
  readingWords,
  stages,
  type Taper,
  type TaperEnd,
  type TaperNode,
  type TaperPlaces,
  type TaperWords,
} from './shape.js';

const sizePt = { stage: 10, name: 12, reading: 15 } as const;
const leadPt = { stage: 14, name: 16, reading: 19 } as const;
type DownKind = 'stage' | 'name' | 'reading' | 'stop';

/** Stages from the top down along the left edge, for a narrow page; all words stand to the right of the lines. */
export function placeDown(taper: Taper, widthPt: number): TaperPlaces {
  const widest = Math.max(2, ...taper.nodes.map((node) => halfWidthPt(node.millilitres, 'down')));
  const lanes = Math.max(1, ...stages.map((stage) => nodesAt(taper, stage).length));
  const gapPt = lanes === 1 ? 0 : Math.min(20, 64 / (lanes - 1));
  const lanesPt = (lanes - 1) * gapPt + 2 * widest;
  const textX = lanesPt + 14;
  const ends = new Map<string, TaperEnd>();
  const words: TaperWords[] = [];
  const starts: number[] = [];
  let yPt = 12;
  for (const stage of stages) {
    const nodes = nodesAt(taper, stage);
    starts.push(yPt);
    nodes.forEach((node, lane) => {
      const xPt = 2 + lanesPt / 2 + (lane - (nodes.length - 1) / 2) * gapPt;
      ends.set(node.id, { xPt, yPt, halfPt: halfWidthPt(node.millilitres, 'down') });
    });
    let line = yPt - leadPt.stage + 4;
    for (const [text, kind] of [[stage, 'stage'] as const, ...nodes.flatMap(linesOf)]) {
      const size = kind === 'stop' ? sizePt.reading : sizePt[kind];
      line += kind === 'stop' ? leadPt.reading : leadPt[kind];
      words.push({
        xPt: textX,
        yPt: line,
        text: cutWords(text, size, widthPt - textX),
        sizePt: size,
        anchor: 'left',
        kind,
      });
    }
    yPt = Math.max(yPt + 44, line + 24);
  }
  const heightPt = Math.max((starts.at(-1) ?? 0) + 14, ...words.map((one) => one.yPt + 6));
  return { ends, words, page: { widthPt, heightPt }, turn: { fromPt: starts[0] ?? 0, toPt: starts[1] ?? 0 } };
}

const linesOf = (node: TaperNode): (readonly [string, DownKind])[] => [
  ...(nameWords(node) === '' ? [] : [[nameWords(node), 'name'] as const]),
  ...node.knots.map((knot) => [readingWords(knot), knot.stops ? 'stop' : 'reading'] as const),
];
