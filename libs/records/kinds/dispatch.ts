export type DispatchKind = 'sale' | 'gift' | 'sample' | 'kept' | 'retained' | 'broken' | 'destroyed' | 'returned';

export interface DispatchBody {
  readonly lot: string;
  readonly jars: number;
  /** The jars by their codes; empty where they were only counted. */
  readonly codes: readonly string[];
  readonly sentAt: string;
  readonly to: string;
  readonly kind: DispatchKind;
  readonly contact: string;
  readonly telephone?: string | undefined;
  /** Recorded after the jars had left, whatever the lot's status: it waits for a maker's initials. */
  readonly alreadyLeft?: 'yes' | undefined;
  /** A sample for a laboratory, which may be sent from a held lot too. */
  readonly laboratory?: 'yes' | undefined;
  /** For jars that leave: how many of them had been returned and set apart. */
  readonly fromReturned?: number | undefined;
  /** For returned jars: how many are still sealed; absent until they were inspected. */
  readonly sealed?: number | undefined;
  readonly keptHow?: 'cold' | 'warm' | 'not-known' | undefined;
  readonly lookedAt?: string | undefined;
  readonly lookedBy?: string | undefined;
  readonly by: string;
}
