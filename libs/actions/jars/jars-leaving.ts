import type { DispatchKind } from '#libs/records/kinds/dispatch.js';

/** Jars that somebody wants to send, give, keep or label. */
export interface JarsLeaving {
  readonly kind: DispatchKind;
  readonly laboratory: boolean;
  readonly jars: number;
  readonly codes: readonly string[];
  /** The dispatch being corrected: its own jars are not counted against it. */
  readonly id?: string | undefined;
  /** When they leave: not before the seals could be checked. */
  readonly sentAt: string;
}

/**
 * Whether the syrup may be eaten after jars leave this way. Jars destroyed, broken, retained or returned are always
 * accepted.
 */
export const isForEating = ({ kind, laboratory }: Pick<JarsLeaving, 'kind' | 'laboratory'>): boolean =>
  ['sale', 'gift', 'kept'].includes(kind) || (kind === 'sample' && !laboratory);
