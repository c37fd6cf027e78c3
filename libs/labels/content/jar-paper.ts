import type { LabelLook } from './label-look.js';

/** Neck tags and seal strips: the same for every jar of a pack. */
export interface JarPaper {
  readonly maker: string;
  readonly product: string;
  readonly productFr?: string | undefined;
  readonly lot: string;
  readonly packed: string;
  readonly story: readonly string[];
  readonly storyFr?: readonly string[] | undefined;
  readonly look: LabelLook;
  readonly practice: boolean;
}
