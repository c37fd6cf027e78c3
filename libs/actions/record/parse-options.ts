import type { VolumeOptions } from '#libs/syrup/quantities/quantities.js';

/** How this book reads typed text: its time zone, its gallon, and today's date. */
export interface ParseOptions {
  /** IANA name, such as America/New_York. */
  readonly zone: string;
  readonly volumes: VolumeOptions;
  readonly now: Date;
}
