/** A second person has gone through a lot's records. */
export interface VerificationBody {
  readonly lot: string;
  readonly at: string;
  readonly note: string;
  readonly by: string;
}
