/** A record beside the lots: instrument, check, cleaning, supply, complaint and others, read field by field. */
export interface SupportingRecordBody {
  readonly at: string;
  readonly by: string;
  readonly [field: string]: unknown;
}

/** A text field of such a record; empty where it was left blank. */
export function textIn(body: SupportingRecordBody, field: string): string {
  const text = body[field];
  return typeof text === 'string' ? text : '';
}
