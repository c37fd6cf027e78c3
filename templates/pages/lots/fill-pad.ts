import type { BoxFault } from '../parts/field-view.js';

/**
 * The quick form for filling jars: what was typed and not saved, how many jars are capped, and when the next one is
 * read.
 */
export interface FillPad {
  readonly unit: string;
  readonly thermometers: readonly string[];
  /** A thermometer that nobody checked this season, and where to write the check. */
  readonly toCheck: { readonly text: string; readonly href: string; readonly link: string } | undefined;
  readonly typed: string;
  readonly thermometer: string;
  /** The first and the last jar by number, or a tray. */
  readonly jarsFrom: string;
  readonly jarsTo: string;
  readonly tray: string;
  /** In words, as a form that waited on a device has them. */
  readonly jars: string;
  readonly ago: string;
  readonly upTo: string;
  readonly soFar: number;
  /** Which of the boxes are wrong: `temperature`, `upTo`, `thermometer`, `jars`. */
  readonly boxFaults: readonly BoxFault[];
  readonly next: NextCheck;
}

/** When the next jar is read: by a time, at a jar, or both. */
export interface NextCheck {
  readonly text: string;
  readonly every: string;
  /** The usual interval, where the house has none of its own. */
  readonly isUsual: boolean;
  readonly late?: boolean;
  readonly due?: string | undefined;
  readonly atJar?: number | undefined;
}

export interface FillView {
  readonly reading: string;
  /** Too cold, and not poured back. */
  readonly low: boolean;
  readonly pouredBack: boolean;
  readonly beside: string;
  /** As the book has it, for the button that pours its jars back. */
  readonly typed: string;
}
