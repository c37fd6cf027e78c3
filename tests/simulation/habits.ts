import type { Chance } from '../generator/random.js';

/** How many people follow the quick form's advice, as shares. Assumptions, no source. */
export interface Habits {
  /** Check, as the pad asks before the first jar, a thermometer without a check that day: one in two where absent. */
  readonly whenAsked?: number;
  /** Asked only of a thermometer that nobody checked in the season, as the pad did before. */
  readonly isAskedOncePerSeason?: boolean;
  /** Make that check in ice, the second button, and not in boiling water, the first: one in four. */
  readonly inIce?: number;
  /** Set right or change, as the pad says, a thermometer that the check finds more than 2 °F out: one in two. */
  readonly whenFoundWrong?: number;
  /** Read the last jar of a pack of which nobody read one, as the pad asks before it is closed: one in two. */
  readonly whenNoneRead?: number;
  /** Pour back, as the pad says, what reads within 2 °F above the limit by one without a check that day: one in two. */
  readonly whenNear?: number;
}

/** Whether one of so many does it. */
export const happens = (chance: Chance, share = 0.5): boolean => chance.whole(0, 999) < share * 1000;
