/** A call made in a recall; `reached` is absent where it was not recorded. */
export interface RecallCallBody {
  readonly lot: string;
  /** The other lots of the same recall, where it began from several. */
  readonly lots?: readonly string[] | undefined;
  readonly to: string;
  readonly at: string;
  readonly telephone?: string | undefined;
  readonly reached?: 'yes' | 'no' | undefined;
  readonly spokeTo: string;
  readonly keptApart?: number | undefined;
  readonly note: string;
  readonly by: string;
}
