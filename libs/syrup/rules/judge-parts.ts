import type { JarSpan } from '../jars/jar-spans.js';
import type { DensityFacts } from './density-limits.js';
import { densityNotRead, judgeDensity } from './judge-density.js';
import type { PlaceRules } from '../labelling/places.js';
import { findingOf } from './rules.js';
import type { Finding } from './verdict.js';

/** The ids of the instruments that read a density, and when. */
export interface ReadWith {
  readonly instruments: readonly string[];
  readonly atMs: number;
}

/** Some jars of a pack that were packed again: the pack's other readings don't count for them. */
export interface PartOfPack {
  /** Undefined for an action that names no jars: its findings concern the whole pack. */
  readonly jars: readonly JarSpan[] | undefined;
  /** Boiled up without its density being read since. */
  readonly densityIsStale: boolean;
  readonly density?: (DensityFacts & ReadWith) | undefined;
  /** Their lids are new, and nobody has checked these seals. */
  readonly sealsNotChecked: boolean;
}

/** Findings for jars that were packed again: their density, and whether their seals were checked. */
export function judgeParts(parts: readonly PartOfPack[], place: PlaceRules): Finding[] {
  return parts.flatMap((part) => {
    const stale = part.densityIsStale ? [densityNotRead()] : [];
    const read = part.density ? judgeDensity(part.density, place).findings.filter(({ stop }) => stop) : [];
    const seals = part.sealsNotChecked && part.jars ? [sealsNotChecked()] : [];
    return [...stale, ...read, ...seals].map((finding) => ({ ...finding, ...(part.jars ? { jars: part.jars } : {}) }));
  });
}

const sealsNotChecked = (): Finding =>
  findingOf('seals-not-checked', {
    limit: 'every lid checked after cooling: drawn down, does not flex',
    found: 'packed again, and these seals not checked since',
  });
