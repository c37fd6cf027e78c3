import type { Chance } from '../generator/random.js';

/** How many people follow the quick form's advice, as shares. Assumptions, no source. */
export interface Habits {
  /**
   * Check a thermometer without a check this season before the first jar, as the form asks: one in two where absent.
   */
  readonly whenNeverChecked?: number;
  /** Check it in boiling water before every pack, which the form doesn't ask; nobody where absent. */
  readonly beforeEveryPack?: number;
  /**
   * Also pour back readings up to so many °F above the limit, which the form doesn't ask either; nobody where absent.
   */
  readonly poursBackWithin?: number;
}

/** True for this share of people. */
export const happens = (chance: Chance, share: number): boolean => chance.whole(0, 999) < share * 1000;
