/** The medium of a picture: half a landscape sheet, or a window; each at the size at which it is shown. */
export interface ChartShape {
  readonly width: number;
  readonly height: number;
  /** Size of its text: points on paper, pixels in a window. */
  readonly font: number;
  /** Room on the right for the text at the end of a ruled line. */
  readonly endWidth?: number;
  /** Lines of text under the picture; one by default. */
  readonly linesBelow?: number;
}

export type ShapeName = 'paper' | 'phone' | 'desktop';

/**
 * On paper, six of these with their titles fit a page, and text is 10 pt. In a window they are scaled: about as wide as
 * the column on a phone and as the page's own on a desktop, so that text stays near the page's size.
 */
export const chartShapes: Readonly<Record<ShapeName, ChartShape>> = {
  paper: { width: 346, height: 140, font: 10 },
  phone: { width: 330, height: 250, font: 12 },
  desktop: { width: 960, height: 340, font: 14 },
};

/** The greatest width a text can have. */
export const textWidth = (text: string, { font }: ChartShape): number => text.length * font * 0.6;

/** The same shape with room for these texts at the ends of ruled lines. */
export const withEnds = (shape: ChartShape, ends: readonly string[]): ChartShape => ({
  ...shape,
  endWidth: Math.max(0, ...ends.map((text) => textWidth(text, shape))) + 8,
});

/** The plot area inside the axes; around it is room for their labels. */
export function plotOf({ width, height, font, endWidth = 8, linesBelow = 1 }: ChartShape) {
  const margins = {
    left: Math.round(5.4 * font),
    right: Math.round(endWidth),
    top: font,
    bottom: Math.round(0.9 * font + 1.25 * font * linesBelow),
  };
  return {
    margins,
    width: width - margins.left - margins.right,
    height: height - margins.top - margins.bottom,
    padding: Math.round(1.5 * font),
  };
}
