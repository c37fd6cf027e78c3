import type { ChartShape } from './chart-shape.js';
import type { PlacedText } from './chart-text.js';

/** A chart laid out as plain data: positions on its axes, before drawing. */
export type ChartSpec = PointChart | DayStrips | SeasonBars | PlaceBars | EmptyChart;

/** Readings over time as points, with ruled limits and a band. */
export interface PointChart {
  readonly kind: 'points';
  readonly shape: ChartShape;
  readonly x: Axis;
  readonly y: Axis;
  readonly band: readonly [low: number, high: number] | null;
  readonly limits: readonly Tick[];
  /** Joined by a line in their order, and filled. */
  readonly joined: boolean;
  readonly points: readonly ChartPoint[];
  readonly texts: readonly PlacedText[];
  /** Texts along the bottom, at their times. */
  readonly foot: readonly Tick[];
}

export interface ChartPoint {
  readonly at: number;
  readonly over: number;
  /** Out of bounds: drawn filled and with its reading, so that it stands out without colour. */
  readonly out: boolean;
  readonly text: string;
}

/** Bars by day, one strip per class. */
export interface DayStrips {
  readonly kind: 'strips';
  readonly shape: ChartShape;
  readonly x: Axis;
  /** One scale for all strips. */
  readonly y: Axis;
  readonly stripHeight: number;
  readonly barWidth: number;
  /** Low strip: figures are beside the ends of their bars, not above them. */
  readonly isLow: boolean;
  readonly strips: readonly {
    readonly name: string;
    readonly colour: string;
    readonly bars: readonly { readonly at: number; readonly amount: number; readonly text: string }[];
  }[];
}

/** One bar per season. */
export interface SeasonBars {
  readonly kind: 'seasons';
  readonly shape: ChartShape;
  readonly y: Axis;
  readonly bars: readonly {
    readonly year: string;
    readonly amount: number;
    readonly text: string;
    readonly now: boolean;
  }[];
}

/** Horizontal bars, each followed by its text. */
export interface PlaceBars {
  readonly kind: 'places';
  readonly shape: ChartShape;
  /** How many jars the full width represents. */
  readonly most: number;
  readonly bars: readonly { readonly jars: number; readonly text: string }[];
}

/** A chart without data, with a text that says so. */
export interface EmptyChart {
  readonly kind: 'empty';
  readonly shape: ChartShape;
  readonly text: string;
}

export interface Axis {
  readonly from: number;
  readonly to: number;
  readonly title: string | null;
  readonly ticks: readonly Tick[];
}

export interface Tick {
  readonly at: number;
  readonly text: string;
}
