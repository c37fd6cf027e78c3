import type { FillReading } from '../quantities/fill-readings.js';

/** Jars of a pack by their numbers, both ends included. */
export interface JarSpan {
  readonly from: number;
  readonly to: number;
}

/** Whether any of the jars is among the spans. */
export const touches = (spans: readonly JarSpan[], jars: JarSpan): boolean =>
  spans.some((span) => span.from <= jars.to && jars.from <= span.to);

/** `jars 9–24 and 31`, `jar 9` */
export const formatSpans = (spans: readonly JarSpan[]): string =>
  `${spans.length === 1 && spans[0]?.from === spans[0]?.to ? 'jar' : 'jars'} ${spans.map(({ from, to }) => (from === to ? `${from}` : `${from}–${to}`)).join(' and ')}`;

/**
 * `No fill reading covers jars 25–30.`; empty where every jar is covered. Where readings were taken but none names its
 * jar, it says that instead.
 */
export function formatUncovered(
  spans: readonly JarSpan[] = [],
  { made = 0, wereRead = false }: { readonly made?: number | undefined; readonly wereRead?: boolean } = {},
): string {
  if (spans.length === 0) return '';
  return wereRead && areAll(spans, made)
    ? 'The fill readings were recorded without jar numbers, so it isn’t known which jars they cover.'
    : `No fill reading covers ${formatSpans(spans)}.`;
}

/** The same for one jar: empty where a reading covers it. */
export function formatUncoveredJar(
  n: number,
  spans: readonly JarSpan[],
  { made = 0, wereRead }: { readonly made?: number | undefined; readonly wereRead: boolean },
): string {
  if (!touches(spans, { from: n, to: n })) return '';
  return wereRead && areAll(spans, made)
    ? 'The fill readings were recorded without jar numbers, so it isn’t known whether one covers this jar.'
    : 'No fill reading covers this jar.';
}

const areAll = ([first, ...more]: readonly JarSpan[], made: number): boolean =>
  more.length === 0 && first?.from === 1 && first.to >= made;

/** Parses `jars 9-16`, `jar 9`; undefined for other texts, such as a tray. */
export function spanOf(fill: FillReading | undefined): JarSpan | undefined {
  const parts = /^(?:jars?|pots?|bocal|bocaux)\s+(\d+)(?:\s*(?:-|–|—|to|through|thru|à|au)\s*(\d+))?$/iu.exec(
    fill?.jars ?? '',
  );
  if (!parts) return undefined;
  const from = Number(parts[1]);
  const to = Number(parts[2] ?? parts[1]);
  return from >= 1 && to >= from ? { from, to } : undefined;
}

/** Spans in order, with adjoining or overlapping ones merged. */
export function mergedSpans(spans: readonly JarSpan[]): JarSpan[] {
  const sorted = [...spans].sort((a, b) => a.from - b.from);
  const out: JarSpan[] = [];
  for (const span of sorted) {
    const last = out.at(-1);
    if (last && span.from <= last.to + 1) out[out.length - 1] = { from: last.from, to: Math.max(last.to, span.to) };
    else out.push(span);
  }
  return out;
}
