/** A second person's review of a lot's records. */
export interface VerificationBody {
  readonly lot: string;
  readonly at: string;
  readonly note: string;
  readonly by: string;
}
