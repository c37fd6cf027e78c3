import type { Volume } from '#libs/syrup/quantities/quantities.js';
import type { SupportingRecordBody } from './supporting-record.js';

/** A run of labels: jars `from` to `to`, printed, spoiled or printed again. */
export interface LabelRunBody extends SupportingRecordBody {
  readonly stock: string;
  readonly from?: number;
  readonly to?: number;
  readonly what: string;
  /** Places used of the last sheet; only of a run that the program printed. */
  readonly ended?: number;
  /** What the labels declare, `milk; soy` or `none`; absent in books older than the field. */
  readonly allergens?: string;
  /** The net quantity that they state; absent in books older than the field. */
  readonly quantity?: Volume;
}
