import type { DensityReading, Volume } from '#libs/syrup/quantities/quantities.js';

export interface ReceiptBody {
  readonly receivedAt: string;
  readonly supplier: string;
  readonly contact: string;
  readonly theirLot: string;
  readonly volume: Volume;
  readonly density?: DensityReading | undefined;
  /** Of syrup: what its maker answered for the defoamer; absent in books older than the field. */
  readonly allergens?: string;
  readonly by: string;
}
