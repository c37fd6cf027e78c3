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
  /** Reported after the jars were gone, whatever the lot's status: it waits for a maker's initials. */
  readonly alreadyLeft?: 'yes' | undefined;
  /** A sample for a laboratory, which may be sent of a held lot too. */
  readonly laboratory?: 'yes' | undefined;
  /** Of jars that leave: how many of them had come back and were set apart. */
  readonly fromReturned?: number | undefined;
  /** Of returned jars: how many are still sealed; absent until they were inspected. */
  readonly sealed?: number | undefined;
  readonly keptHow?: 'cold' | 'warm' | 'not-known' | undefined;
  readonly lookedAt?: string | undefined;
  readonly lookedBy?: string | undefined;
  readonly by: string;
}
