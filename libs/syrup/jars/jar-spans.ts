import type { Parsed } from '../quantities/quantities.js';

/** Jars of a pack by their numbers, both ends included. */
export interface JarSpan {
  readonly from: number;
  readonly to: number;
}

/** Jars as somebody typed them: `9-16 and 31`. */
export interface NamedJars {
  readonly typed: string;
  /** Empty for `all` while the pack's number of jars is unknown. */
  readonly spans: readonly JarSpan[];
  readonly all: boolean;
}

const expected = 'jars by number like 13-18 or 9-16 and 31, or all';

/** Parses `13-18`, `jars 9–16 and 31`, `4, 7`, `all`. */
export function parseJarSpans(text: string): Parsed<NamedJars> {
  const typed = text.trim();
  const fault = { mismatch: { expected, got: typed === '' ? 'nothing' : `"${typed}"` } };
  if (/^(?:all|all (?:the )?jars|every jar|toutes?|tous)$/iu.test(typed))
    return { value: { typed, spans: [], all: true } };
  const spans: JarSpan[] = [];
  for (const part of typed
    .replace(/^(?:jars?|pots?|bocal|bocaux)\s+/iu, '')
    .split(/\s*(?:[,;|+]|\band\b|\bet\b)\s*/iu)) {
    const numbers = /^#?(\d{1,6})(?:\s*(?:-|–|—|to|through|thru|à|au)\s*#?(\d{1,6}))?$/u.exec(part.trim());
    const from = Number(numbers?.[1]);
    const to = Number(numbers?.[2] ?? numbers?.[1]);
    if (!numbers || from < 1 || to < from) return fault;
    spans.push({ from, to });
  }
  return { value: { typed, spans: mergeSpans(spans), all: false } };
}

/** The jars of `spans` that are not in `taken`. */
export function subtractSpans(spans: readonly JarSpan[], taken: readonly JarSpan[]): JarSpan[] {
  let left = mergeSpans(spans);
  for (const { from, to } of taken)
    left = left.flatMap((span) => [
      ...(span.from < from ? [{ from: span.from, to: Math.min(span.to, from - 1) }] : []),
      ...(span.to > to ? [{ from: Math.max(span.from, to + 1), to: span.to }] : []),
    ]);
  return left;
}

/** The jars that are in both lists. */
export const intersectSpans = (spans: readonly JarSpan[], bounds: readonly JarSpan[]): JarSpan[] =>
  subtractSpans(spans, subtractSpans([{ from: 1, to: Infinity }], bounds));

/** Whether `outer` contains all jars of `inner`. */
export const coversSpans = (outer: readonly JarSpan[], inner: readonly JarSpan[]): boolean =>
  subtractSpans(inner, outer).length === 0;

/** How many jars the spans contain; overlaps count once. */
export const jarsInSpans = (spans: readonly JarSpan[]): number =>
  mergeSpans(spans).reduce((sum, { from, to }) => sum + to - from + 1, 0);

/** Whether any of `jars` is in `spans`. */
export const overlapsSpans = (spans: readonly JarSpan[], jars: JarSpan): boolean =>
  spans.some((span) => span.from <= jars.to && jars.from <= span.to);

/** `jars 9–24 and 31`, `jar 9` */
export const formatSpans = (spans: readonly JarSpan[]): string =>
  `${spans.length === 1 && spans[0]?.from === spans[0]?.to ? 'jar' : 'jars'} ${spans.map(({ from, to }) => (from === to ? `${from}` : `${from}–${to}`)).join(' and ')}`;

/** Sorts spans and merges those that adjoin or overlap. */
export function mergeSpans(spans: readonly JarSpan[]): JarSpan[] {
  const sorted = [...spans].sort((a, b) => a.from - b.from);
  const out: JarSpan[] = [];
  for (const span of sorted) {
    const last = out.at(-1);
    if (last && span.from <= last.to + 1) out[out.length - 1] = { from: last.from, to: Math.max(last.to, span.to) };
    else out.push(span);
  }
  return out;
}
