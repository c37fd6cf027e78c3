import type { RouteRow } from './route-table.js';

export interface RoutesByAddress {
  /** The routes of an address, whatever their method; of one with fixed words where another has a parameter, only those. */
  at(path: string): readonly RouteRow[];
  /** Whether the route of that pattern also answers addresses that have a route of their own in another method. */
  overlapsFixedRoute(pattern: string): boolean;
}

/** The methods that an address of ours accepts; the table is read once all routes are registered. */
export function routesByAddress(routes: readonly RouteRow[]): RoutesByAddress {
  let patterns: readonly RoutePattern[] | undefined;
  const all = (): readonly RoutePattern[] => (patterns ??= routePatterns(routes));
  let overlapping: ReadonlySet<string> | undefined;
  const takes = ({ method }: RouteRow, path: string): boolean =>
    routes.some((row) => row.path === path && row.method === method);
  const findOverlapping = (): ReadonlySet<string> =>
    new Set(
      all().flatMap(({ row, moreSpecific }) => ([...moreSpecific].some((path) => !takes(row, path)) ? [row.path] : [])),
    );
  return {
    at: (path) => {
      const address = path.length > 1 ? path.replace(/\/$/, '') : path;
      const found = all().filter(({ shape }) => shape.test(address));
      return found
        .filter(({ moreSpecific }) => !found.some((other) => moreSpecific.has(other.row.path)))
        .map(({ row }) => row);
    },
    overlapsFixedRoute: (pattern) => (overlapping ??= findOverlapping()).has(pattern),
  };
}

interface RoutePattern {
  readonly row: RouteRow;
  readonly shape: RegExp;
  /** Patterns with fixed words where this one has a parameter: `/packs/:code/fill` beside `/packs/:code/:step`. */
  readonly moreSpecific: ReadonlySet<string>;
}

function routePatterns(routes: readonly RouteRow[]): readonly RoutePattern[] {
  const shapes = new Map(routes.map(({ path }) => [path, patternRegExp(path)]));
  const covers = (wide: string, narrow: string): boolean => shapes.get(wide)?.test(narrow) ?? false;
  const paths = [...shapes.keys()];
  const moreSpecific = new Map(
    paths.map((path) => [path, new Set(paths.filter((each) => covers(path, each) && !covers(each, path)))]),
  );
  return routes.map((row) => ({ row, shape: shapes.get(row.path)!, moreSpecific: moreSpecific.get(row.path)! }));
}

/** `/api/lots/:code/trace`, as the router matches it; a `*` stands for the rest. */
const patternRegExp = (path: string): RegExp =>
  new RegExp(
    `^${path
      .replace(/[.+?^${}()|[\]\\]/g, '\\$&')
      .replace(/:[A-Za-z0-9]+/g, '[^/]+')
      .replace(/\*/g, '.*')}$`,
  );

/** The value of an `Allow` header: the methods of an address, sorted. */
export const allowOf = (rows: readonly RouteRow[]): string =>
  [...new Set(rows.map((row) => row.method))].sort().join(', ');
