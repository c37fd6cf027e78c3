/** The stages every lot passes, in their order. */
export const stages = ['gathered', 'boiled', 'filtered', 'resting', 'packed', 'sent out'] as const;
export type Stage = (typeof stages)[number];

/** A lot's path from sap to jars: where it was measured, where it joined others and where it split. */
export interface LotDiagram {
  /** The lot or the season that is drawn. */
  readonly code: string;
  readonly nodes: readonly DiagramNode[];
  readonly links: readonly DiagramLink[];
  /** `#rrggbb` of the syrup, or null where its colour isn't known. */
  readonly syrupColour: string | null;
}
export interface DiagramNode {
  readonly id: string;
  readonly stage: Stage;
  /** Its code or destination; may be empty. */
  readonly name: string;
  /** Its volume or count as typed; may be empty. */
  readonly amount: string;
  readonly millilitres: number | null;
  readonly happened: boolean;
  readonly dots: readonly DiagramDot[];
}
export interface DiagramDot {
  readonly what: string;
  /** The reading as typed, or `not read`. */
  readonly reading: string;
  /** A rule stopped the lot at this reading. */
  readonly hasStop: boolean;
}
export interface DiagramLink {
  readonly from: string;
  readonly to: string;
  readonly millilitres: number | null;
  readonly happened: boolean;
}

export type DiagramShape = 'across' | 'down' | 'small';

/** The drawing as numbers, in points from its top left. */
export interface DiagramLayout {
  readonly shape: DiagramShape;
  readonly widthPt: number;
  readonly heightPt: number;
  readonly bands: readonly DiagramBand[];
  readonly dots: readonly {
    readonly xPt: number;
    readonly yPt: number;
    readonly stops: boolean;
    readonly happened: boolean;
  }[];
  readonly texts: readonly DiagramText[];
  /** Where sap turns into syrup, along the drawing: the colour changes between these positions. */
  readonly turn: { readonly fromPt: number; readonly toPt: number };
}
/** One stretch of line: two ends, each with its half width. What has not happened is drawn as a dotted line. */
export interface DiagramBand {
  readonly from: DiagramEnd;
  readonly to: DiagramEnd;
  readonly happened: boolean;
}
export interface DiagramEnd {
  readonly xPt: number;
  readonly yPt: number;
  readonly halfPt: number;
}
export interface DiagramText {
  readonly xPt: number;
  readonly yPt: number;
  readonly text: string;
  readonly sizePt: number;
  readonly anchor: 'left' | 'right' | 'centre';
  readonly kind: 'stage' | 'name' | 'reading' | 'stop';
}

/** Half the line's width for a volume: proportional to its logarithm, so that forty to one still fits a page. */
export function halfWidthPt(millilitres: number | null, shape: DiagramShape, boldness = 1): number {
  if (millilitres === null) return unknownHalfPt[shape] * boldness;
  return Math.max(0.7, (boldness * unitPt[shape] * Math.log10(1 + millilitres / 1000)) / 2);
}
const unitPt = { across: 11, down: 8, small: 4.2 } as const;
const unknownHalfPt = { across: 4, down: 3, small: 1.6 } as const;

/** Where each node's line ends, and the text beside it. */
export interface DiagramPlaces {
  readonly ends: ReadonlyMap<string, DiagramEnd>;
  readonly texts: readonly DiagramText[];
  readonly page: { readonly widthPt: number; readonly heightPt: number };
  readonly turn: { readonly fromPt: number; readonly toPt: number };
}

/** The nodes of one stage: sap, boil, pack or destination of jars. */
export const nodesAt = (diagram: LotDiagram, stage: Stage): readonly DiagramNode[] =>
  diagram.nodes.filter((node) => node.stage === stage);

/** `183 F lowest fill`, but `density not read`. */
export const readingText = (dot: DiagramDot): string =>
  dot.reading === notRead ? `${dot.what} ${notRead}` : `${dot.reading} ${dot.what}`;

export const notRead = 'not read';

/** A node's name and amount. */
export const nameText = (node: DiagramNode): string =>
  [node.name, node.amount].filter((part) => part !== '').join(' · ');

/** Cuts a text to a width, assuming half the font size for a letter; the full text is in the description. */
export function cutText(text: string, sizePt: number, widthPt: number): string {
  const letters = Math.floor(widthPt / (sizePt * 0.5));
  return text.length <= letters ? text : `${text.slice(0, Math.max(1, letters - 1)).trimEnd()}…`;
}
