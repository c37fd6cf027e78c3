import { parseNamedContainer } from './container-names.js';
import { type Parsed, type Volume, type VolumeOptions, parseVolume } from './quantities.js';

export type ContainerMaterial = 'glass' | 'plastic' | 'metal' | 'other';

/** A container of syrup as typed: `glass jar 8 fl oz`. */
export interface Container {
  readonly typed: string;
  readonly material: ContainerMaterial;
  /** The text before the volume, as typed: `glass jar`, `drum`. */
  readonly kind: string;
  readonly volume: Volume;
}

/**
 * Parses a container, kind and volume: `glass jar 8 fl oz`, `plastic jug 32 fl oz`, `metal can 500 mL`, `drum 40 gal`;
 * or as people name it: `half pint`, `8 oz mason jar`, `quart jug`.
 */
export function parseContainer(text: string, options: VolumeOptions = { bareGallons: 'US' }): Parsed<Container> {
  const expected = 'a container and its volume like glass jar 8 fl oz or metal can 500 mL';
  const typed = text.trim();
  const got = typed === '' ? 'nothing' : `"${typed}"`;
  // Size names are short; a longer text isn't searched for one, so that parsing stays fast.
  const parts = (typed.length <= 60 ? parseNamedContainer(typed) : undefined) ?? kindAndVolume(typed);
  if (!parts) return { mismatch: { expected, got } };
  const kind = parts.kind.replace(/\s+/gu, ' ');
  const volume = parseVolume(parts.volume, options);
  if (volume.mismatch) return { mismatch: { expected: `${expected}; its volume ${volume.mismatch.expected}`, got } };
  if (volume.value.millilitres <= 0) return { mismatch: { expected: `${expected}, more than nothing`, got } };
  return { value: { typed, material: materialOf(kind), kind, volume: volume.value } };
}

/** The last number of the text begins the volume; the kind is before it, with or without a comma or space between. */
function kindAndVolume(typed: string): { readonly kind: string; readonly volume: string } | undefined {
  if (/[\r\n\u2028\u2029]/u.test(typed)) return undefined;
  let end = typed.length;
  while (end > 0 && !isDigit(typed.charAt(end - 1))) end--;
  let begin = end;
  while (begin > 0 && /[\d.,/\s+−-]/u.test(typed.charAt(begin - 1))) begin--;
  const number = /^\s*(?:,\s+)?(\d+(?:[.,]\d+)?|[.,]\d+)$/u.exec(typed.slice(begin, end))?.[1];
  if (begin === 0 || end === typed.length || number === undefined) return undefined;
  return { kind: typed.slice(0, begin), volume: number + typed.slice(end) };
}
const isDigit = (letter: string): boolean => letter >= '0' && letter <= '9';

/** Below this a pack counts as packed for retail: 5 US gal, US Standards for Grades of Maple Syrup. */
const bulkFromMillilitres = 5 * 3785.411784;

/** Whether it is large enough for processing grade; slightly below the limit passes, since 5 gal is sold as 18.9 L. */
export const isBulk = (container: Container): boolean => container.volume.millilitres >= bulkFromMillilitres * 0.998;

/**
 * Whether a container is preheated before filling: cold glass breaks, and cold cans chill the syrup; in drums and pails
 * the wall hardly matters. Common practice, no source.
 */
export const needsPreheating = (container: Container): boolean =>
  // Where only the size was given it may be glass, so preheating is needed.
  (container.material === 'glass' || container.material === 'metal' || container.kind === '') &&
  !/\b(?:drums?|barrels?|totes?|kegs?|pails?)\b/iu.test(container.kind);

// The material takes precedence over the shape: a plastic jar is plastic, a bare jar is glass.
const materialPatterns: readonly (readonly [RegExp, ContainerMaterial])[] = [
  [/\b(?:glass(?:es)?|verre)\b/iu, 'glass'],
  [/\b(?:plastic|plastique|poly\w*|hdpe|pet)\b/iu, 'plastic'],
  [/\b(?:metal|métal|steel|stainless|alumini?um)\b/iu, 'metal'],
  [/\b(?:cans?|tins?)\b/iu, 'metal'],
  [/\bjars?\b/iu, 'glass'],
];

function materialOf(kind: string): ContainerMaterial {
  return materialPatterns.find(([word]) => word.test(kind))?.[1] ?? 'other';
}
