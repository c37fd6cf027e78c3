import type { VolumeManner } from '#libs/syrup/quantities/quantities.js';

/** How this book reads what is typed: its time zone, its gallons, and the day it is. */
export interface Manner {
  /** IANA name, such as America/New_York. */
  readonly zone: string;
  readonly volumes: VolumeManner;
  readonly now: Date;
}
