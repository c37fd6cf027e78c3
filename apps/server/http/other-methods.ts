import type { RouteRow } from './route-table.js';

/** The methods that an address of ours accepts; the table is read once all routes are registered. */
export function otherMethods(routes: readonly RouteRow[]): (path: string) => readonly RouteRow[] {
  let known: readonly { readonly row: RouteRow; readonly shape: RegExp }[] | undefined;
  return (path) => {
    known ??= routes.map((row) => ({ row, shape: shapeOf(row.path) }));
    const query = path.length > 1 ? path.replace(/\/$/, '') : path;
    return known.filter(({ shape }) => shape.test(query)).map(({ row }) => row);
  };
}

/** `/api/lots/:code/trace`, as the router matches it; a `*` stands for the rest. */
const shapeOf = (path: string): RegExp =>
  new RegExp(
    `^${path
      .replace(/[.+?^${}()|[\]\\]/g, '\\$&')
      .replace(/:[A-Za-z0-9]+/g, '[^/]+')
      .replace(/\*/g, '.*')}$`,
  );

/** The value of an `Allow` header: the methods of an address, sorted. */
export const allowOf = (rows: readonly RouteRow[]): string =>
  [...new Set(rows.map((row) => row.method))].sort().join(', ');
