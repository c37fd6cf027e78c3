import type { Parsed } from './quantities.js';
import { type JarSpan, mergedSpans } from '../jars/held-jars.js';

/** Jars that somebody named: their numbers, and the text as typed. */
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
  return { value: { typed, spans: mergedSpans(spans), all: false } };
}

/** The first spans without the jars of the second. */
export function without(spans: readonly JarSpan[], taken: readonly JarSpan[]): JarSpan[] {
  let left = mergedSpans(spans);
  for (const { from, to } of taken)
    left = left.flatMap((span) => [
      ...(span.from < from ? [{ from: span.from, to: Math.min(span.to, from - 1) }] : []),
      ...(span.to > to ? [{ from: Math.max(span.from, to + 1), to: span.to }] : []),
    ]);
  return left;
}

/** The jars that are in both. */
export const within = (spans: readonly JarSpan[], bounds: readonly JarSpan[]): JarSpan[] =>
  without(spans, without([{ from: 1, to: Infinity }], bounds));

/** Whether the first spans contain all jars of the second. */
export const holdsAll = (outer: readonly JarSpan[], inner: readonly JarSpan[]): boolean =>
  without(inner, outer).length === 0;

/** How many jars the spans contain; overlaps count once. */
export const jarsIn = (spans: readonly JarSpan[]): number =>
  mergedSpans(spans).reduce((sum, { from, to }) => sum + to - from + 1, 0);
