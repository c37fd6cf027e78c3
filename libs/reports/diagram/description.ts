import { stages, type Taper, type TaperNode } from './shape.js';

/** The same as the drawing, in words: stage by stage, with every reading as typed and what is still to come. */
export function taperWords(taper: Taper): string {
  const told = stages.flatMap((stage) => {
    const nodes = taper.nodes.filter((node) => node.stage === stage);
    const done = nodes.filter((node) => node.happened).map(nodeWords);
    const ahead = nodes.filter((node) => !node.happened).map(nodeWords);
    const sentences: string[] = [];
    if (done.length > 0) sentences.push(sentence(stage, done));
    if (ahead.length > 0) sentences.push(sentence(`Not yet ${stage}`, ahead));
    return sentences;
  });
  return told.join(' ');
}

function sentence(opening: string, parts: readonly string[]): string {
  const known = parts.filter((part) => part !== '');
  const start = opening.charAt(0).toUpperCase() + opening.slice(1);
  return known.length === 0 ? `${start}.` : `${start}: ${known.join('; ')}.`;
}

function nodeWords(node: TaperNode): string {
  const readings = node.knots.map((knot) => `${knot.what} ${knot.reading}${knot.stops ? ' (stopped)' : ''}`);
  return [node.name, node.amount, ...readings].filter((part) => part !== '').join(', ');
}
