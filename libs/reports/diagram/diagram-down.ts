import {
  cutText,
  halfWidthPt,
  nameText,
  nodesAt,
  readingText,
  stages,
  type LotDiagram,
  type DiagramEnd,
  type DiagramNode,
  type DiagramPlaces,
  type DiagramText,
} from './shape.js';

const sizePt = { stage: 10, name: 12, reading: 15 } as const;
const leadPt = { stage: 14, name: 16, reading: 19 } as const;
type DownKind = 'stage' | 'name' | 'reading' | 'stop';

/** Stages from top to bottom along the left edge, for a narrow page; all text is to the right of the lines. */
export function placeDown(diagram: LotDiagram, widthPt: number): DiagramPlaces {
  const widest = Math.max(2, ...diagram.nodes.map((node) => halfWidthPt(node.millilitres, 'down')));
  const lanes = Math.max(1, ...stages.map((stage) => nodesAt(diagram, stage).length));
  const gapPt = lanes === 1 ? 0 : Math.min(20, 64 / (lanes - 1));
  const lanesPt = (lanes - 1) * gapPt + 2 * widest;
  const textX = lanesPt + 14;
  const ends = new Map<string, DiagramEnd>();
  const label: DiagramText[] = [];
  const starts: number[] = [];
  let yPt = 12;
  for (const stage of stages) {
    const nodes = nodesAt(diagram, stage);
    starts.push(yPt);
    nodes.forEach((node, lane) => {
      const xPt = 2 + lanesPt / 2 + (lane - (nodes.length - 1) / 2) * gapPt;
      ends.set(node.id, { xPt, yPt, halfPt: halfWidthPt(node.millilitres, 'down') });
    });
    let line = yPt - leadPt.stage + 4;
    for (const [text, kind] of [[stage, 'stage'] as const, ...nodes.flatMap(linesOf)]) {
      const size = kind === 'stop' ? sizePt.reading : sizePt[kind];
      line += kind === 'stop' ? leadPt.reading : leadPt[kind];
      label.push({
        xPt: textX,
        yPt: line,
        text: cutText(text, size, widthPt - textX),
        sizePt: size,
        anchor: 'left',
        kind,
      });
    }
    yPt = Math.max(yPt + 44, line + 24);
  }
  const heightPt = Math.max((starts.at(-1) ?? 0) + 14, ...label.map((one) => one.yPt + 6));
  return { ends, texts: label, page: { widthPt, heightPt }, turn: { fromPt: starts[0] ?? 0, toPt: starts[1] ?? 0 } };
}

const linesOf = (node: DiagramNode): (readonly [string, DownKind])[] => [
  ...(nameText(node) === '' ? [] : [[nameText(node), 'name'] as const]),
  ...node.dots.map((dot) => [readingText(dot), dot.hasStop ? 'stop' : 'reading'] as const),
];
