/** The state of one jar. */
export type JarState = 'free' | 'recalled' | 'held' | 'destroyed' | 'returned';

/** The most dangerous state of a jar: recalled before held, held before destroyed, destroyed before returned. */
export function jarStateOf(of: {
  readonly recalled: boolean;
  readonly held: boolean;
  readonly destroyed: boolean;
  readonly setApart: boolean;
}): JarState {
  if (of.recalled) return 'recalled';
  if (of.held) return 'held';
  if (of.destroyed) return 'destroyed';
  return of.setApart ? 'returned' : 'free';
}
