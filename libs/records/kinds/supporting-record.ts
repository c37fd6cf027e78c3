/** A record beside the lots: instrument, check, cleaning, supply, complaint and the rest, read field by field. */
export interface SupportingRecordBody {
  readonly at: string;
  readonly by: string;
  readonly [field: string]: unknown;
}

/** A text of such a record; empty where none was written. */
export function textIn(body: SupportingRecordBody, field: string): string {
  const text = body[field];
  return typeof text === 'string' ? text : '';
}
