import { formatSpans, type JarSpan, overlapsSpans } from './jar-spans.js';
import type { FillReading } from '../quantities/fill-readings.js';

/**
 * `No fill reading covers jars 25–30.`; empty where every jar is covered. Where readings were taken but none names its
 * jar, it says that instead.
 */
export function formatUncovered(
  spans: readonly JarSpan[] = [],
  { made = 0, wereRead = false }: { readonly made?: number | undefined; readonly wereRead?: boolean } = {},
): string {
  if (spans.length === 0) return '';
  return wereRead && coversWholePack(spans, made)
    ? 'The fill readings were recorded without jar numbers, so it isn’t known which jars they cover.'
    : `No fill reading covers ${formatSpans(spans)}.`;
}

/** The same for one jar: empty where a reading covers it. */
export function formatUncoveredJar(
  n: number,
  spans: readonly JarSpan[],
  { made = 0, wereRead }: { readonly made?: number | undefined; readonly wereRead: boolean },
): string {
  if (!overlapsSpans(spans, { from: n, to: n })) return '';
  return wereRead && coversWholePack(spans, made)
    ? 'The fill readings were recorded without jar numbers, so it isn’t known whether one covers this jar.'
    : 'No fill reading covers this jar.';
}

const coversWholePack = ([first, ...more]: readonly JarSpan[], made: number): boolean =>
  more.length === 0 && first?.from === 1 && first.to >= made;

/** Parses `jars 9-16`, `jar 9`; undefined for other texts, such as a tray. */
export function readingJarSpan(fill: FillReading | undefined): JarSpan | undefined {
  const parts = /^(?:jars?|pots?|bocal|bocaux)\s+(\d+)(?:\s*(?:-|–|—|to|through|thru|à|au)\s*(\d+))?$/iu.exec(
    fill?.jars ?? '',
  );
  if (!parts) return undefined;
  const from = Number(parts[1]);
  const to = Number(parts[2] ?? parts[1]);
  return from >= 1 && to >= from ? { from, to } : undefined;
}
