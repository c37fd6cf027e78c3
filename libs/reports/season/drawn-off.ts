import type { Draw, SeasonBoil } from './flow.js';
import type { Season } from './season.js';

/** Readings and steps at the draw-offs of a boil: on the boil itself, on its draws and in its log. */
export interface DrawnOff {
  /** Temperatures, as typed. */
  readonly finish: readonly string[];
  /** Temperatures in the filter, as typed. */
  readonly filter: readonly string[];
  /** What it was filtered through. */
  readonly media: readonly string[];
}

/** For each boil of the season, by its code. */
export function drawnOffOf({ boils, draws }: Pick<Season, 'boils' | 'draws'>): ReadonlyMap<string, DrawnOff> {
  const drawsOf = new Map<string, Draw[]>();
  for (const draw of draws) drawsOf.set(draw.boil, [...(drawsOf.get(draw.boil) ?? []), draw]);
  return new Map(boils.map((boil) => [boil.lot, drawnOff(boil, drawsOf.get(boil.lot) ?? [])]));
}

function drawnOff(boil: SeasonBoil, draws: readonly Draw[]): DrawnOff {
  const read = [...boil.readings, ...draws.flatMap(({ readings }) => readings), ...boil.panLog];
  const typed = (...kinds: readonly string[]): readonly string[] => [
    ...new Set(read.filter(({ kind }) => kinds.includes(kind)).map((reading) => reading.typed)),
  ];
  const media = [boil.filterMedium, ...draws.map(({ filterMedium }) => filterMedium)].filter(
    (medium) => medium !== null,
  );
  return { finish: typed('finish', 'draw'), filter: typed('filter'), media: [...new Set(media)] };
}
