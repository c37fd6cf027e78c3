import type { Container } from '#libs/syrup/quantities/container.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import type { NamedJars } from '#libs/syrup/jars/jar-spans.js';
import type { DensityReading, Percent, Temperature } from '#libs/syrup/quantities/quantities.js';
import type { DensityInstrument } from '#libs/syrup/science/density.js';
import type { Portion } from '../portion.js';

export interface PackBody {
  /** Blank means pure maple syrup; absent in books older than the field. */
  readonly product?: string;
  readonly fromLots: readonly Portion[];
  readonly packedAt: string;
  readonly hotPackTemp?: Temperature | undefined;
  readonly densityReading?: DensityReading | undefined;
  readonly densityAt?: Temperature | undefined;
  readonly densityBy?: DensityInstrument | undefined;
  readonly densityCalibratedAt?: Temperature | undefined;
  /** The instruments that read the kettle, the sample and the density; readings of the jars name their own. */
  readonly instruments?: readonly string[];
  readonly container: Container;
  readonly containerPrep: string;
  /**
   * The preparations before filling and the steps at each jar that were ticked; absent in books older than the fields.
   */
  readonly benchReady?: readonly string[];
  readonly benchFilled?: readonly string[];
  /** Put off when the quick form asked for it before the first jar; absent in books older than the field. */
  readonly thermometerCheck?: 'later' | undefined;
  /** Absent while jars are being filled. */
  readonly jars?: number | undefined;
  readonly fillTemps: readonly FillReading[];
  /** Jars near which glass broke; absent in books older than the field. */
  readonly brokenGlass?: NamedJars | undefined;
  /** Absent until the seals were checked. */
  readonly sealsFailed?: number | undefined;
  readonly sealsOutcome: string;
  /** When failed seals were counted, else when the count was entered; absent in books older than the field. */
  readonly sealsAt?: string | undefined;
  readonly transmittance?: Percent | undefined;
  readonly colourClass: string;
  readonly clarity: string;
  readonly offFlavour: string;
  /** Absent in books older than the field. */
  readonly mould?: string | undefined;
  readonly by: string;
  readonly note: string;
}
