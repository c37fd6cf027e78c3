import type { Chance } from '../generator/random.js';

/** How many do as the pad says, as shares. Assumptions, no source. */
export interface Habits {
  /** Check a thermometer that nobody checked this season, before the first jar, as the pad asks: one in two where absent. */
  readonly whenNeverChecked?: number;
  /** Check it in boiling water before every pack, which the pad doesn't ask; nobody where absent. */
  readonly beforeEveryPack?: number;
  /** Pour back what reads so many °F above the limit too, which the pad doesn't ask either; nobody where absent. */
  readonly poursBackWithin?: number;
}

/** Whether one of so many does it. */
export const happens = (chance: Chance, share: number): boolean => chance.whole(0, 999) < share * 1000;
