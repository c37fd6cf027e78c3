import type { VolumeOptions } from '#libs/syrup/quantities/quantities.js';

/** How this book parses typed text: its time zone, its gallon, and the current time. */
export interface ParseOptions {
  /** IANA name, such as America/New_York. */
  readonly zone: string;
  readonly volumes: VolumeOptions;
  readonly now: Date;
}
