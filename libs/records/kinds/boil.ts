import type { DensityReading, Temperature, Volume } from '#libs/syrup/quantities/quantities.js';
import type { Portion } from '../portion.js';

export interface BoilBody {
  readonly beganAt: string;
  readonly finishedAt?: string | undefined;
  readonly gatherings: readonly Portion[];
  readonly carriedFrom: readonly Portion[];
  readonly sapVolume?: Volume | undefined;
  readonly sapSugar?: DensityReading | undefined;
  readonly waterBoilsAt?: Temperature | undefined;
  readonly finishTemp?: Temperature | undefined;
  readonly filterTemp?: Temperature | undefined;
  readonly filterMedium: string;
  readonly defoamer: string;
  readonly defoamerAllergens: string;
  readonly restedFrom?: string | undefined;
  readonly restedUntil?: string | undefined;
  /** Absent while the boil is in progress. */
  readonly syrupVolume?: Volume | undefined;
  readonly instruments?: readonly string[];
  readonly by: string;
  readonly note: string;
}
