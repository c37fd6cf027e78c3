/** One piece of work in progress: what it is, its current state, and the link to the next entry. */
export interface WorkInProgress {
  readonly code: string;
  readonly href: string;
  readonly sentence: string;
  readonly next?: { readonly href: string; readonly text: string };
  /** Something that isn't recorded, and the form that adds it. */
  readonly missing?: { readonly text: string; readonly href: string; readonly linkText: string };
  readonly state?: string;
  /** The start of a running clock. */
  readonly since?: string;
}
