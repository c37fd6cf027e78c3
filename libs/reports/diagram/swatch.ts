import type { ColourName } from '../season/lot.js';

/**
 * An approximate screen colour for syrup of this transmittance, as `#rrggbb`: 10 mm of it before a white sheet in
 * daylight. Syrup is never graded by a screen. `transmittancePercent` is at 560 nm against glycerol = 100.
 */
export function swatch(transmittancePercent: number): string {
  const at560 = Math.min(1, Math.max(0.005, transmittancePercent / 100));
  const absorbance560 = -Math.log10(at560);
  let [x, y, z, whiteX, whiteY, whiteZ] = [0, 0, 0, 0, 0, 0];
  for (const [nm, [seenX, seenY, seenZ]] of (responses ??= computeResponses())) {
    const passes = 10 ** (-absorbance560 * Math.exp(-slopePerNm * (nm - 560)));
    x += passes * seenX;
    y += passes * seenY;
    z += passes * seenZ;
    whiteX += seenX;
    whiteY += seenY;
    whiteZ += seenZ;
  }
  return srgb((x / whiteX) * 0.9505, y / whiteY, (z / whiteZ) * 1.089);
}

/**
 * The swatch of a class where no reading was taken: the middle of its band. Cached, since a list needs it in every row.
 */
export function classSwatch(colour: ColourName): string {
  const known = swatchByClass.get(colour) ?? swatch(middlePercent[colour]);
  swatchByClass.set(colour, known);
  return known;
}
const swatchByClass = new Map<ColourName, string>();

/** Bands ≥ 75, ≥ 50, ≥ 25, else: 1 NYCRR 270.1; 7 M.R.S. §892-A; Canadian Grade Compendium vol. 7. */
const middlePercent: Readonly<Record<ColourName, number>> = { Golden: 84, Amber: 62, Dark: 37, 'Very Dark': 13 };

/** How fast the absorbance of browned sugar falls towards red; from memory, about 0.012 to 0.015 per nm. */
const slopePerNm = 0.013;

/** The eye's colour response to each wavelength: the same for every syrup, so it is computed once. */
let responses: readonly (readonly [nm: number, ReturnType<typeof colourResponse>])[] | undefined;
const computeResponses = () =>
  Array.from({ length: 61 }, (_, n) => [400 + 5 * n, colourResponse(400 + 5 * n)] as const);

/**
 * CIE 1931 colour matching, the simple fit of Wyman, Sloan and Shirley, Journal of Computer Graphics Techniques
 * 2 (2013) no. 2; constants from memory.
 */
function colourResponse(nm: number): readonly [number, number, number] {
  const lobe = (peak: number, below: number, above: number): number => {
    const t = (nm - peak) * (nm < peak ? below : above);
    return Math.exp(-0.5 * t * t);
  };
  return [
    0.362 * lobe(442, 0.0624, 0.0374) + 1.056 * lobe(599.8, 0.0264, 0.0323) - 0.065 * lobe(501.1, 0.049, 0.0382),
    0.821 * lobe(568.8, 0.0213, 0.0247) + 0.286 * lobe(530.9, 0.0613, 0.0322),
    1.217 * lobe(437, 0.0845, 0.0278) + 0.681 * lobe(459, 0.0385, 0.0725),
  ];
}

/** XYZ with white at D65 to sRGB (IEC 61966-2-1), clipped to what a screen can show. */
function srgb(x: number, y: number, z: number): string {
  const linear = [
    3.2406 * x - 1.5372 * y - 0.4986 * z,
    -0.9689 * x + 1.8758 * y + 0.0415 * z,
    0.0557 * x - 0.204 * y + 1.057 * z,
  ];
  const bytes = linear.map((light) => {
    const clipped = Math.min(1, Math.max(0, light));
    const coded = clipped <= 0.0031308 ? 12.92 * clipped : 1.055 * clipped ** (1 / 2.4) - 0.055;
    return Math.round(coded * 255)
      .toString(16)
      .padStart(2, '0');
  });
  return `#${bytes.join('')}`;
}
