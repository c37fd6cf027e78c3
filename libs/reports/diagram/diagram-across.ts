import {
  cutText,
  halfWidthPt,
  nameText,
  nodesAt,
  readingText,
  stages,
  type Stage,
  type LotDiagram,
  type DiagramEnd,
  type DiagramNode,
  type DiagramPlaces,
  type DiagramText,
} from './shape.js';

type AcrossShape = 'across' | 'small';
const linePt = 11;
const sizePt = { stage: 7.5, name: 8, reading: 9.5 } as const;
/** Room for sources left of the first stage, and for destinations right of the last. */
const edgePt = { across: { left: 98, right: 140 }, small: { left: 2, right: 3 } } as const;

/** Stages from left to right at equal steps; several lots of a stage are above one another in lanes. */
export function placeAcross(
  diagram: LotDiagram,
  shape: AcrossShape,
  lengthPt: number,
  boldness: number,
): DiagramPlaces {
  const edge = edgePt[shape];
  const stepPt = (lengthPt - edge.left - edge.right) / (stages.length - 1);
  const { level, beside } = spreadLanes(diagram, shape, stepPt, boldness);
  const tops = [
    ...[...level.values()].map((end) => end.yPt - end.halfPt),
    ...beside.map((one) => one.yPt - one.sizePt),
  ];
  const feet = [...[...level.values()].map((end) => end.yPt + end.halfPt), ...beside.map((one) => one.yPt + 3)];
  const headPt = shape === 'small' ? 1.5 : 16;
  const downPt = headPt - Math.min(0, ...tops);
  const ends = new Map([...level].map(([id, end]) => [id, { ...end, yPt: end.yPt + downPt }]));
  const text = beside.map((one) => ({ ...one, yPt: one.yPt + downPt }));
  return {
    ends,
    texts: shape === 'small' ? [] : [...stageText(edge.left, stepPt), ...text],
    page: { widthPt: lengthPt, heightPt: downPt + Math.max(0, ...feet) + 1.5 },
    turn: { fromPt: edge.left, toPt: edge.left + stepPt },
  };
}

/** Lanes around a middle line at 0, moved apart until no texts of a stage overlap. */
function spreadLanes(
  diagram: LotDiagram,
  shape: AcrossShape,
  stepPt: number,
  boldness: number,
): { level: ReadonlyMap<string, DiagramEnd>; beside: readonly DiagramText[] } {
  let wider = 0;
  for (let attempt = 0; ; attempt += 1) {
    const level = placeLanes(diagram, shape, stepPt, boldness, wider);
    if (shape === 'small') return { level, beside: [] };
    const beside = diagram.nodes.flatMap((node) => textsBeside(diagram, node, level, stepPt));
    const overlap = overlapPt(beside);
    if (overlap <= 0 || attempt === maxAttempts) return { level, beside };
    wider += overlap + 2;
  }
}
const maxAttempts = 8;

function placeLanes(
  diagram: LotDiagram,
  shape: AcrossShape,
  stepPt: number,
  boldness: number,
  widerPt: number,
): Map<string, DiagramEnd> {
  const level = new Map<string, DiagramEnd>();
  const place = (node: DiagramNode, yPt: number): void => {
    const xPt = edgePt[shape].left + stages.indexOf(node.stage) * stepPt;
    level.set(node.id, { xPt, yPt, halfPt: halfWidthPt(node.millilitres, shape, boldness) });
  };
  for (const stage of stages.slice(1)) {
    const nodes = nodesAt(diagram, stage);
    const gapPt = laneGapPt(diagram, stage, shape, boldness) + (stage === 'sent out' ? 0 : widerPt);
    nodes.forEach((node, lane) => place(node, (lane - (nodes.length - 1) / 2) * gapPt));
  }
  // Sap is placed around the boil that it went into.
  const sap = nodesAt(diagram, 'gathered');
  const gapPt = laneGapPt(diagram, 'gathered', shape, boldness);
  const boilOf = (node: DiagramNode): string | undefined => diagram.links.find((link) => link.from === node.id)?.to;
  for (const node of sap) {
    const together = sap.filter((one) => boilOf(one) === boilOf(node));
    const middle = level.get(boilOf(node) ?? '')?.yPt ?? 0;
    place(node, middle + (together.indexOf(node) - (together.length - 1) / 2) * gapPt);
  }
  return level;
}

/** The most by which one line of text overlaps another near it. */
function overlapPt(text: readonly DiagramText[]): number {
  let most = 0;
  for (const one of text)
    for (const other of text) {
      if (one === other || one.xPt !== other.xPt || one.yPt > other.yPt) continue;
      if (one.yPt === other.yPt && text.indexOf(one) > text.indexOf(other)) continue;
      most = Math.max(most, one.yPt + 2.4 - (other.yPt - other.sizePt * 0.7));
    }
  return most;
}

const stageText = (leftPt: number, stepPt: number): DiagramText[] =>
  stages.map((stage, column) => ({
    xPt: leftPt + column * stepPt,
    yPt: 8,
    text: stage,
    sizePt: sizePt.stage,
    anchor: 'centre',
    kind: 'stage',
  }));

/** The stages that one boil passes in a straight line share their lanes. */
const boilStages: readonly Stage[] = ['boiled', 'filtered', 'resting'];

function laneGapPt(diagram: LotDiagram, stage: Stage, shape: AcrossShape, boldness: number): number {
  const alike = boilStages.includes(stage) ? boilStages : [stage];
  const nodes = alike.flatMap((one) => nodesAt(diagram, one));
  const widest = Math.max(0, ...nodes.map((node) => halfWidthPt(node.millilitres, shape, boldness)));
  if (shape === 'small') return Math.max(3, widest + 1);
  const readings = Math.max(0, ...nodes.map((node) => node.dots.length));
  if (stage === 'sent out' || stage === 'gathered') return Math.max(2 * widest + 3, (readings + 1) * linePt + 3);
  const sapLanes = Math.max(0, ...nodes.map((node) => diagram.links.filter((link) => link.to === node.id).length));
  const sapPt = stage === 'packed' ? 0 : sapLanes * laneGapPt(diagram, 'gathered', shape, boldness);
  return Math.max(2 * widest + (readings + 1) * linePt + 8, sapPt + 4);
}

/** Sources are left of the line and destinations right of it; otherwise readings above and names below. */
function textsBeside(
  diagram: LotDiagram,
  node: DiagramNode,
  ends: ReadonlyMap<string, DiagramEnd>,
  stepPt: number,
): DiagramText[] {
  const end = ends.get(node.id);
  if (!end) return [];
  const name = nameText(node);
  const lines: DiagramText[] = node.dots.map((dot) => ({
    ...{ xPt: end.xPt, yPt: 0, text: readingText(dot), sizePt: sizePt.reading, anchor: 'centre' },
    kind: dot.hasStop ? 'stop' : 'reading',
  }));
  const named: DiagramText = { xPt: end.xPt, yPt: 0, text: name, sizePt: sizePt.name, anchor: 'centre', kind: 'name' };
  if (node.stage === 'gathered') return stackBeside([...lines, named], end, 'right', edgePt.across.left - 14);
  if (node.stage === 'sent out') return stackBeside([...lines, named], end, 'left', edgePt.across.right - 10);
  const widthPt = stepPt * 1.15;
  const clear = clearOf(diagram, node, ends, stepPt / 2);
  const above = lines.map((line, index) => ({
    ...line,
    text: cutText(line.text, line.sizePt, widthPt),
    yPt: clear.topPt - 4 - (lines.length - 1 - index) * linePt,
  }));
  if (name === '') return above;
  return [...above, { ...named, text: cutText(name, sizePt.name, widthPt), yPt: clear.footPt + linePt }];
}

function stackBeside(
  lines: readonly DiagramText[],
  end: DiagramEnd,
  anchor: 'left' | 'right',
  widthPt: number,
): DiagramText[] {
  const input = lines.filter((line) => line.text !== '');
  const xPt = anchor === 'right' ? end.xPt - 8 : end.xPt + 8;
  return input.map((line, index) => ({
    ...line,
    xPt,
    yPt: end.yPt + 3 + (index - (input.length - 1) / 2) * linePt,
    text: cutText(line.text, line.sizePt, widthPt),
    anchor,
  }));
}

/** How far the lines that meet at a node extend above and below it, so that its text keeps clear of them. */
function clearOf(
  diagram: LotDiagram,
  node: DiagramNode,
  ends: ReadonlyMap<string, DiagramEnd>,
  reachPt: number,
): { topPt: number; footPt: number } {
  const here = ends.get(node.id);
  let topPt = (here?.yPt ?? 0) - (here?.halfPt ?? 0);
  let footPt = (here?.yPt ?? 0) + (here?.halfPt ?? 0);
  for (const link of diagram.links) {
    if (link.from !== node.id && link.to !== node.id) continue;
    const other = ends.get(link.from === node.id ? link.to : link.from);
    if (!here || !other) continue;
    for (let t = 0; t <= 1; t += 0.05) {
      // The same curve as drawn: both handles are half way along.
      const along = 1.5 * t * (1 - t) + t ** 3;
      const across = 3 * t * t - 2 * t ** 3;
      if (along * Math.abs(other.xPt - here.xPt) > reachPt) break;
      const yPt = here.yPt + across * (other.yPt - here.yPt);
      const halfPt = here.halfPt + across * (Math.min(other.halfPt, here.halfPt * 2) - here.halfPt);
      topPt = Math.min(topPt, yPt - halfPt);
      footPt = Math.max(footPt, yPt + halfPt);
    }
  }
  return { topPt, footPt };
}
