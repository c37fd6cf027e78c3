/** One piece of work in progress: what it is, what matters now, and the one tap to the next entry. */
export interface WorkInProgress {
  readonly code: string;
  readonly href: string;
  readonly sentence: string;
  readonly next?: { readonly href: string; readonly text: string };
  readonly state?: string;
  /** A clock that runs from here. */
  readonly since?: string;
}
