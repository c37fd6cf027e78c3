import type { DensityReading, Temperature, Volume } from '#libs/syrup/quantities/quantities.js';

export interface GatheringBody {
  readonly gatheredAt: string;
  readonly source: string;
  readonly volume: Volume;
  readonly sugar?: DensityReading | undefined;
  readonly temperature?: Temperature | undefined;
  readonly condition: string;
  /** The handling steps that were ticked; absent in books older than the field. */
  readonly handling?: readonly string[];
  /** Yellow or cloudy sap that was thrown out: not part of the volume. */
  readonly thrownOut?: Volume | undefined;
  readonly by: string;
}
