import type { Random } from '../generator/random.js';

/** How many people follow the quick form's advice, as shares. Assumptions, no source. */
export interface Habits {
  /** Check a thermometer without a check that day before the first jar, as asked: one in two where absent. */
  readonly ifReminded?: number;
  /** Asked only of a thermometer that nobody checked in the season, as the quick form did before. */
  readonly isRemindedOncePerSeason?: boolean;
  /** Make that check in ice, the second button, and not in boiling water, the first: one in four. */
  readonly inIce?: number;
  /** Set right or change, as the quick form says, a thermometer that the check finds more than 2 °F out: one in two. */
  readonly whenFoundWrong?: number;
  /** Read the last jar of a pack of which nobody read one, as the quick form asks before it is closed: one in two. */
  readonly whenNoneRead?: number;
  /** Pour back what reads within 2 °F above the limit by one without a check that day, as told: one in two. */
  readonly whenNear?: number;
}

/** True for this share of people. */
export const happens = (random: Random, share = 0.5): boolean => random.whole(0, 999) < share * 1000;
