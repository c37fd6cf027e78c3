/** How a field is asked for. */
export type Control =
  | 'text'
  | 'long'
  | 'quantity'
  | 'number'
  | 'moment'
  | 'day'
  | 'choice'
  /** Several of a few, each ticked or not. */
  | 'ticks'
  | 'suggested'
  | 'select'
  | 'portions'
  | 'many'
  | 'readings'
  | 'pairs'
  | 'spans'
  /** How many jars, or which: by their codes or by their numbers. */
  | 'jars'
  | 'tick';

export interface Choice {
  readonly value: string;
  readonly text: string;
  readonly chosen: boolean;
}

/** A lot that something may be drawn from, how much of it is left, and how much is taken. */
export interface PortionView {
  readonly code: string;
  readonly text: string;
  readonly taken: boolean;
  readonly amount: string;
}

/** A reading in the jar as the page asks for it: a box each, for nobody should have to know how they are written together. */
export interface ReadingRow {
  readonly n: number;
  readonly temp: string;
  /** The first jar and the last; a jar by itself, or a tray, in the first alone. */
  readonly from: string;
  readonly to: string;
  readonly clock: string;
  readonly thermometer: string;
}

/** A list whose items have two parts, a box each: a reading and its time, a size and how many. */
export interface PairView {
  readonly unitLabel: string;
  readonly first: string;
  readonly second: string;
  readonly between: string;
  readonly isTime: boolean;
  readonly rows: readonly { readonly n: number; readonly first: string; readonly second: string }[];
}

/** Jars by number as the page asks for them: the first and the last, or the first alone. */
export interface SpanRow {
  readonly n: number;
  readonly from: string;
  readonly to: string;
}

/** A text of two parts, each picked from tiles: a container by its kind and its size. */
export interface Tiles {
  readonly kinds: readonly Tile[];
  readonly sizes: readonly Tile[];
}
export interface Tile {
  readonly value: string;
  readonly chosen: boolean;
}

/** One field as the page draws it. `typed` is what a person typed, never a reading of the book's own making. */
export interface FieldView {
  readonly name: string;
  readonly control: Control;
  readonly label: string;
  readonly hint: string;
  readonly example: string;
  readonly needed: boolean;
  readonly typed: string;
  readonly units: readonly Choice[];
  readonly choices: readonly Choice[];
  readonly portions: readonly PortionView[];
  /** A lot of which nothing is left, or that isn't among the portions, and how much of it. */
  readonly more?: { readonly lot: string; readonly amount: string; readonly known: readonly string[] } | undefined;
  readonly readings?: readonly ReadingRow[];
  readonly readingsInSight?: number;
  readonly spans?: readonly SpanRow[];
  readonly pairs?: PairView | undefined;
  /** Codes of jars as typed, one a line. */
  readonly codes?: string;
  /** What was typed here before, to pick from. `several` where more than one may be picked. */
  readonly remembered?: readonly Choice[];
  readonly several?: boolean;
  readonly tiles?: Tiles | undefined;
  readonly fault: string | undefined;
  /** Of a field of several boxes: which of them are wrong. */
  readonly boxFaults?: readonly BoxFault[];
  /** Times may be given as so many minutes ago; the chosen one is kept. */
  readonly ago: string | undefined;
}

/** One wrong box of several: the name it is posted under, what it is called, and what to do. */
export interface BoxFault {
  readonly box: string;
  readonly label: string;
  readonly text: string;
}

export interface FieldProps extends FieldView {
  /** The box that the page opens at. */
  readonly focus?: boolean;
  /** One of its choices is always picked: none stands for nothing. */
  readonly noBlank?: boolean;
}

/** What the boxes of a field share: its id, the sentences that describe it, and whether it is wrong. */
export interface BoxAttributes {
  readonly id: string;
  readonly 'aria-describedby': string | undefined;
  readonly 'aria-invalid': 'true' | undefined;
}
