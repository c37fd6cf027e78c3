import { stages, type LotDiagram, type DiagramNode } from './shape.js';

/** The diagram as text: stage by stage, with every reading as typed and what is still to come. */
export function diagramText(diagram: LotDiagram): string {
  const input = stages.flatMap((stage) => {
    const nodes = diagram.nodes.filter((node) => node.stage === stage);
    const done = nodes.filter((node) => node.happened).map(nodeText);
    const ahead = nodes.filter((node) => !node.happened).map(nodeText);
    const sentences: string[] = [];
    if (done.length > 0) sentences.push(sentence(stage, done));
    if (ahead.length > 0) sentences.push(sentence(`Not yet ${stage}`, ahead));
    return sentences;
  });
  return input.join(' ');
}

function sentence(opening: string, parts: readonly string[]): string {
  const known = parts.filter((part) => part !== '');
  const start = opening.charAt(0).toUpperCase() + opening.slice(1);
  return known.length === 0 ? `${start}.` : `${start}: ${known.join('; ')}.`;
}

function nodeText(node: DiagramNode): string {
  const readings = node.dots.map((dot) => `${dot.what} ${dot.reading}${dot.hasStop ? ' (stopped)' : ''}`);
  return [node.name, node.amount, ...readings].filter((part) => part !== '').join(', ');
}
