import type { Temperature, Volume } from '#libs/syrup/quantities/quantities.js';

export interface DrawBody {
  readonly boil: string;
  readonly drawnAt: string;
  readonly volume: Volume;
  readonly temp?: Temperature | undefined;
  readonly filterTemp?: Temperature | undefined;
  readonly filterMedium: string;
  readonly vessel: string;
  readonly instruments?: readonly string[];
  readonly by: string;
}
