import type { DensityReading, Volume } from '#libs/syrup/quantities/quantities.js';

export interface ReceiptBody {
  readonly receivedAt: string;
  readonly supplier: string;
  readonly contact: string;
  readonly theirLot: string;
  readonly volume: Volume;
  readonly density?: DensityReading | undefined;
  /** For syrup: the supplier's answer about the defoamer's allergens; absent in books older than the field. */
  readonly allergens?: string;
  readonly by: string;
}
