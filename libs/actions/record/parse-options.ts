import type { VolumeOptions } from '#libs/syrup/quantities/quantities.js';

/** How this book reads what is typed: its time zone, its gallons, and the day it is. */
export interface ParseOptions {
  /** IANA name, such as America/New_York. */
  readonly zone: string;
  readonly volumes: VolumeOptions;
  readonly now: Date;
}
