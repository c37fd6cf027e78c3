export type DisposalMethod = 'house' | 'thrown-out' | 'spilt' | 'shrink';

/** Sap or syrup that left its lot and went into no other. */
export interface DisposalBody {
  readonly lot: string;
  readonly how: DisposalMethod;
  /** As typed; blank means all that was left. */
  readonly typed: string;
  readonly millilitres: number;
  readonly at: string;
  readonly why: string;
  readonly by: string;
}
