/** The state of one jar. */
export type JarState = 'free' | 'recalled' | 'held' | 'destroyed' | 'unsealed' | 'returned';

/** The most dangerous state of a jar: recalled before held, held before destroyed, destroyed before a failed seal, and that before returned. */
export function jarStateOf(of: {
  readonly recalled: boolean;
  readonly held: boolean;
  readonly destroyed: boolean;
  /** A record says that its own seal failed. */
  readonly unsealed: boolean;
  readonly setApart: boolean;
}): JarState {
  if (of.recalled) return 'recalled';
  if (of.held) return 'held';
  if (of.destroyed) return 'destroyed';
  if (of.unsealed) return 'unsealed';
  return of.setApart ? 'returned' : 'free';
}
