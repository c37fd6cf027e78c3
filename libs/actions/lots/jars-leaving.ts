import type { DispatchKind } from '#libs/records/kinds/dispatch.js';

/** Jars that somebody wants to send, give, keep or label. */
export interface JarsLeaving {
  readonly kind: DispatchKind;
  readonly laboratory: boolean;
  readonly jars: number;
  readonly codes: readonly string[];
  /** The dispatch that is corrected: its own jars are not counted against it. */
  readonly id?: string | undefined;
  /** When they leave: before the seals could be checked they may not. */
  readonly sentAt: string;
}

/** Ways of leaving after which somebody may eat the syrup. What is destroyed, broken, retained or returned is always taken. */
export const isForEating = ({ kind, laboratory }: Pick<JarsLeaving, 'kind' | 'laboratory'>): boolean =>
  ['sale', 'gift', 'kept'].includes(kind) || (kind === 'sample' && !laboratory);
