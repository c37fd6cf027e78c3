import type { SupportingRecordBody } from './supporting-record.js';

export interface SeasonCloseBody extends SupportingRecordBody {
  readonly signed: string;
}
