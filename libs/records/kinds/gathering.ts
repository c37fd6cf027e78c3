import type { DensityReading, Temperature, Volume } from '#libs/syrup/quantities/quantities.js';

export interface GatheringBody {
  readonly gatheredAt: string;
  readonly source: string;
  readonly volume: Volume;
  readonly sugar?: DensityReading | undefined;
  readonly temperature?: Temperature | undefined;
  readonly condition: string;
  readonly by: string;
}
