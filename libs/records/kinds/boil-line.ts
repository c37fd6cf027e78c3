import type { DensityReading, Temperature } from '#libs/syrup/quantities/quantities.js';

export interface LineBody {
  readonly at: string;
  readonly what: string;
  readonly pan: string;
  readonly temperature?: Temperature | undefined;
  readonly density?: DensityReading | undefined;
  /** Temperature of the sample in the hot cup, read with its density; never the pan's. */
  readonly sampleTemp?: Temperature | undefined;
  /** How it runs off the spoon: an observation, not a measurement. */
  readonly spoon?: string | undefined;
  /** The ids of the instruments that the readings were taken with; absent in books older than the field. */
  readonly instruments?: readonly string[];
  readonly by: string;
  readonly note: string;
}
