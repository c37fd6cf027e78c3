/** A maker's initials on a report of jars that had already left. */
export interface AcknowledgementBody {
  readonly dispatch: string;
  readonly at: string;
  readonly note: string;
  readonly by: string;
}
