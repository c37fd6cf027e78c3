import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import type { NamedJars } from '#libs/syrup/jars/jar-spans.js';
import type { DensityReading, Temperature } from '#libs/syrup/quantities/quantities.js';
import type { DensityInstrument } from '#libs/syrup/science/density.js';

/** Jars as typed, by number; `count` is how many of the pack that is, 0 where its jars were not counted yet. */
export interface ActionJars extends NamedJars {
  readonly count: number;
}

/** A corrective action on a lot; its readings replace the old ones of the jars it names. */
export interface ActionBody {
  readonly lot: string;
  readonly at: string;
  readonly found: string;
  /** What kind of action; absent in books older than the field. */
  readonly way?: string | undefined;
  /** The jars that it names; without jars and cause it clears nothing. Absent in books older than the fields. */
  readonly jars?: ActionJars | undefined;
  readonly cause?: string;
  readonly done: string;
  readonly hotPackTemp?: Temperature | undefined;
  readonly fillTemps: readonly FillReading[];
  readonly densityReading?: DensityReading | undefined;
  readonly densityAt?: Temperature | undefined;
  readonly densityBy?: DensityInstrument | undefined;
  readonly densityCalibratedAt?: Temperature | undefined;
  readonly sealsFailed?: number | undefined;
  readonly sealsOutcome: string;
  /** When failed seals were counted, else when the count was entered; absent in books older than the field. */
  readonly sealsAt?: string | undefined;
  readonly clarity: string;
  readonly offFlavour: string;
  readonly defoamerAllergens: string;
  /** Absent in books older than the fields. */
  readonly mould?: string | undefined;
  readonly jarsMouldy?: number | undefined;
  readonly jarsSound?: number | undefined;
  readonly instruments?: readonly string[];
  readonly by: string;
}
