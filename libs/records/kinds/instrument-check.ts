import type { ReferenceSource } from '#libs/syrup/instruments/instrument-checks.js';
import type { Temperature } from '#libs/syrup/quantities/quantities.js';

/** A check of an instrument: its reference value, and what it read. */
export interface CheckBody {
  readonly at: string;
  readonly instrument: string;
  readonly how: string;
  readonly should?: Temperature | undefined;
  readonly reads?: Temperature | undefined;
  /** The maker's own result; absent in books older than the field. */
  readonly fit?: 'yes' | 'no' | undefined;
  /** Where the reference value came from; absent in books older than the field, where it was typed. */
  readonly shouldFrom?: ReferenceSource | undefined;
  readonly done: string;
  readonly by: string;
}
