import type { Face } from '../drawing/type-faces.js';

/** The look of a maker's labels beside their layout: typeface, colour, and a drawing of their own. */
export interface LabelLook {
  readonly typeface: TypefaceName;
  readonly colour: ColourName;
  readonly logo?: LabelLogo | undefined;
}

/** As named on the form. All three are under the SIL Open Font License. */
export const typefaceLabels = {
  plain: 'Plain (Atkinson Hyperlegible)',
  serif: 'Old-style serif (Fraunces)',
  slab: 'Slab serif (Zilla Slab)',
} as const;
export type TypefaceName = keyof typeof typefaceLabels;

/** Dark enough to read, and printed black without colour: contrast of each on white is at least 7 : 1. */
export const labelColours = {
  black: { label: 'Black', hex: '#000000' },
  spruce: { label: 'Spruce green', hex: '#1f4d3a' },
  sumac: { label: 'Sumac red', hex: '#7a1e22' },
  bark: { label: 'Bark brown', hex: '#5c3310' },
  dusk: { label: 'Dusk blue', hex: '#1d3a5f' },
} as const;
export type ColourName = keyof typeof labelColours;

/** A maker's drawing, checked and stored: pure ink for one colour, and in its own colours for a colour printer. */
export interface LabelLogo {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Rows of pixels, eight per byte, each row starting on a byte: 1 is paper, 0 is ink. */
  readonly ink: Uint8Array;
  /** Red, green, blue, one byte each, on white. */
  readonly rgb: Uint8Array;
  /** Both as PNG, for the preview. */
  readonly inkPng: Uint8Array;
  readonly colourPng: Uint8Array;
}

export const plainLook: LabelLook = { typeface: 'plain', colour: 'black' };

/** The colour of a look as red, green and blue from 0 to 1. */
export function colourParts({ colour }: LabelLook): readonly [number, number, number] {
  const { hex } = labelColours[colour];
  return [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255) as [number, number, number];
}

/** The face of a name, a product or a story in the look's typeface; texts with a legal height use the standard one. */
export function displayFace(weight: 'text' | 'semi' | 'heavy', { typeface }: LabelLook): Face {
  if (typeface === 'plain') return ({ text: 'words', semi: 'words-bold', heavy: 'words-heavy' } as const)[weight];
  return weight === 'text' ? typeface : `${typeface}-${weight}`;
}
