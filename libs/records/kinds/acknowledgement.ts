/** A maker's initials under jars that were reported as already gone. */
export interface AcknowledgementBody {
  readonly dispatch: string;
  readonly at: string;
  readonly note: string;
  readonly by: string;
}
