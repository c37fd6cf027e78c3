/** The control that a field is shown with. */
export type Control =
  | 'text'
  | 'long'
  | 'quantity'
  | 'number'
  | 'moment'
  | 'day'
  | 'choice'
  /** Several of a few values, each ticked or not. */
  | 'ticks'
  | 'suggested'
  | 'select'
  | 'portions'
  | 'many'
  | 'readings'
  | 'pairs'
  | 'spans'
  /** How many jars, or which: by code or by number. */
  | 'jars'
  | 'tick';

export interface Choice {
  readonly value: string;
  readonly text: string;
  readonly chosen: boolean;
}

/** A lot to draw from, how much of it is left, and how much is taken. */
export interface PortionView {
  readonly code: string;
  readonly text: string;
  readonly taken: boolean;
  readonly amount: string;
}

/** One fill reading in a form: a box for each part, since nobody should have to know the notation that joins them. */
export interface ReadingRow {
  readonly n: number;
  readonly temp: string;
  /** The first jar and the last; a single jar, or a tray, in the first box alone. */
  readonly from: string;
  readonly to: string;
  readonly clock: string;
  readonly thermometer: string;
}

/** A list whose items have two parts, one box each: a reading and its time, a size and how many. */
export interface PairView {
  readonly unitLabel: string;
  readonly first: string;
  readonly second: string;
  readonly between: string;
  readonly isTime: boolean;
  readonly rows: readonly { readonly n: number; readonly first: string; readonly second: string }[];
}

/** A range of jars in a form: the first number and the last, or the first alone. */
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

/** One field as the page draws it. `typed` is what a person typed, never a reading that the program made up. */
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
  /** A lot that isn't among the portions and how much of it; `empty` are lots with nothing left, to pick from. */
  readonly more?: { readonly lot: string; readonly amount: string; readonly empty: readonly string[] } | undefined;
  readonly readings?: readonly ReadingRow[];
  readonly readingsInSight?: number;
  readonly spans?: readonly SpanRow[];
  readonly pairs?: PairView | undefined;
  /** Codes of jars as typed, one per line. */
  readonly codes?: string;
  /** Values typed here before, to pick from. `several` where more than one may be picked. */
  readonly remembered?: readonly Choice[];
  readonly several?: boolean;
  readonly tiles?: Tiles | undefined;
  readonly fault: string | undefined;
  /** In a field of several boxes: which of them are invalid. */
  readonly boxFaults?: readonly BoxFault[];
  /** Times may be given as so many minutes ago; the chosen one is kept. */
  readonly ago: string | undefined;
}

/** One invalid box of several: its posted name, its label, and what to do. */
export interface BoxFault {
  readonly box: string;
  readonly label: string;
  readonly text: string;
}

export interface FieldProps extends FieldView {
  /** The page opens with the focus in this box. */
  readonly focus?: boolean;
  /** One of its choices is always picked: there is no blank one. */
  readonly noBlank?: boolean;
}

/** Attributes that a field's boxes share: its id, the sentences that describe it, and whether it is invalid. */
export interface BoxAttributes {
  readonly id: string;
  readonly 'aria-describedby': string | undefined;
  readonly 'aria-invalid': 'true' | undefined;
}
