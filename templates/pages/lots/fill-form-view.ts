import type { BoxFault } from '../parts/field-view.js';

/**
 * The quick form for filling jars: what was typed and not saved, how many jars are capped, and when to read the next
 * one.
 */
export interface FillFormView {
  readonly unit: string;
  readonly thermometers: readonly string[];
  readonly warning: ThermometerWarning | undefined;
  readonly typed: string;
  readonly thermometer: string;
  /** The numbers of the first and last jar, or a tray. */
  readonly jarsFrom: string;
  readonly jarsTo: string;
  readonly tray: string;
  /** As text, from a form that was queued on a device. */
  readonly jars: string;
  readonly ago: string;
  readonly upTo: string;
  readonly soFar: number;
  /** Which of the boxes are invalid: `temperature`, `upTo`, `thermometer`, `jars`. */
  readonly boxFaults: readonly BoxFault[];
  readonly next: NextCheck;
}

/** A thermometer that nobody checked since the day of the pack, or that was found wrong, and what to do about it. */
export interface ThermometerWarning {
  readonly title: string;
  readonly text: string;
  readonly links: readonly { readonly href: string; readonly text: string }[];
  /** One tap goes on without, once for a pack. */
  readonly canPostpone: boolean;
  /** The reading, as the book has it, whose jar is best poured back. */
  readonly pourBack: string | undefined;
}

/** When to read the next jar: at a time, at a jar, or both. */
export interface NextCheck {
  readonly text: string;
  readonly every: string;
  /** The usual interval is used, since the house has set none. */
  readonly isUsual: boolean;
  readonly late?: boolean;
  readonly due?: string | undefined;
  readonly atJar?: number | undefined;
}

export interface FillView {
  readonly reading: string;
  /** Too cold, by the thermometer's checks too, and not poured back. */
  readonly low: boolean;
  /** Why a reading that is hot enough holds its jars all the same: a check found its thermometer wrong. */
  readonly whySuspect?: string | undefined;
  readonly pouredBack: boolean;
  readonly beside: string;
  /** The reading as it is stored, for the button that pours its jars back. */
  readonly typed: string;
}
