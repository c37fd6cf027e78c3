import type { BoilBody } from '#libs/records/kinds/boil.js';

/** Whether nothing is recorded of what went into a boil: then its jars can't be traced to their sap. */
export const isWithoutSap = ({ gatherings, carriedFrom, sapVolume }: BoilBody): boolean =>
  gatherings.length === 0 && carriedFrom.length === 0 && !sapVolume;
