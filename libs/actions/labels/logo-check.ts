import { invalid, type Refusal } from '../record/problem.js';

/** Limits checked before a drawing is opened. */
export const logoLimits = {
  bytes: 512 * 1024,
  pixels: 25_000_000,
  leastPixels: 120,
  elements: 5000,
  uses: 20,
} as const;
const expected = 'a drawing as SVG or PNG, 512 KiB at most';

/** The file type by its first bytes, or why it is refused. Nothing in the file is run or fetched. */
export function logoKind(bytes: Uint8Array): { kind: 'svg' | 'png' } | Refusal {
  if (bytes.length === 0) return invalid('file', expected, 'nothing');
  if (bytes.length > logoLimits.bytes)
    return invalid('file', expected, `one of ${Math.ceil(bytes.length / 1024)} KiB: save it smaller`);
  if (pngSignature.every((byte, at) => bytes[at] === byte)) return { kind: 'png' };
  const text = new TextDecoder('utf-8').decode(bytes).replace(/^\uFEFF/, '');
  if (!/^\s*(<\?xml[^>]*\?>\s*)?(<!--[\s\S]*?-->\s*|<!DOCTYPE[^>]*>\s*)*<svg[\s>]/i.test(text))
    return invalid('file', expected, 'another kind of file');
  const fault = svgFault(text);
  return fault === undefined ? { kind: 'svg' } : invalid('file', 'an SVG of plain shapes', fault);
}

const pngSignature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

/**
 * Why an SVG is refused. An allow-list, since a block-list is never complete. Scripts, external links, embedded
 * pictures and text that needs an installed font each have their own message.
 */
function svgFault(text: string): string | undefined {
  if (/<!DOCTYPE|<!ENTITY|<!\[CDATA\[|<\?xml-stylesheet/i.test(text))
    return 'one with a DOCTYPE, an entity or a style sheet of its own: save it as plain SVG';
  const elements = [...text.matchAll(/<([A-Za-z_][\w.:-]*)/g)].map((match) => match[1]!);
  if (elements.length > logoLimits.elements)
    return `one of ${elements.length} shapes, the most is ${logoLimits.elements}`;
  if (
    elements.some((name) => /^(\w+:)?script$/i.test(name)) ||
    /[\s"'/]on[a-z]+\s*=/i.test(text) ||
    /javascript:/i.test(text)
  )
    return 'one with a script in it: save it without';
  if (elements.some((name) => /^(\w+:)?(text|tspan|textPath)$/.test(name)))
    return 'one with letters that need a font: turn the letters into outlines (paths)';
  if (elements.some((name) => /^(\w+:)?image$/.test(name)))
    return 'one with a picture inside it: send the picture itself as PNG';
  const links = [...text.matchAll(/\b(?:xlink:)?(?:href|src)\s*=\s*(["'])\s*([^"']*)/gi)].map((match) => match[2]!);
  if (links.some((link) => !link.startsWith('#')) || /url\(\s*["']?(?!#|["']?#)/i.test(text) || /@import/i.test(text))
    return 'one that refers to something outside it: a label draws only what is in the file';
  if (elements.filter((name) => name === 'use').length > logoLimits.uses)
    return `one that repeats a shape more than ${logoLimits.uses} times`;
  const other = elements.find((name) => !plainShapes.has(name) && !/^(sodipodi|inkscape|rdf|cc|dc):/.test(name));
  return other === undefined ? undefined : `one with “${other.slice(0, 40)}” in it`;
}

const plainShapes = new Set(
  (
    'svg g path rect circle ellipse line polyline polygon defs use symbol style title desc metadata ' +
    'linearGradient radialGradient stop clipPath'
  ).split(' '),
);
