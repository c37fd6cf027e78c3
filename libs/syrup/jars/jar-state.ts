/** The state of one jar, for the person who holds it. The most dangerous state takes precedence. */
export type JarState = 'free' | 'recalled' | 'held' | 'destroyed' | 'returned';

/** The state of one jar: recalled takes precedence over held, and held over everything else. */
export function jarStateOf(of: {
  readonly recalled: boolean;
  readonly held: boolean;
  readonly destroyed: boolean;
  readonly apart: boolean;
}): JarState {
  if (of.recalled) return 'recalled';
  if (of.held) return 'held';
  if (of.destroyed) return 'destroyed';
  return of.apart ? 'returned' : 'free';
}
