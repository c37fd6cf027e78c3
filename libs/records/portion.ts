/** How much of one lot went into another. `typed` is empty where all that was left was taken. */
export interface Portion {
  readonly lot: string;
  readonly typed: string;
  readonly millilitres: number;
}
