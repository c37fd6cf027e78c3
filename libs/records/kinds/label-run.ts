import type { SupportingRecordBody } from './supporting-record.js';

/** A run of labels: jars `from` to `to`, printed, spoiled or printed again. */
export interface LabelRunBody extends SupportingRecordBody {
  readonly stock: string;
  readonly from?: number;
  readonly to?: number;
  readonly what: string;
  readonly ended?: number;
}
