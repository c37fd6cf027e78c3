import type { BoilBody } from '#libs/records/kinds/boil.js';
import { textIn } from '#libs/records/kinds/supporting-record.js';
import { boilsWithDefoamer } from '#libs/store/queries/defoamers.js';
import { type Lot, recordsOf } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { washesPans } from '#libs/syrup/contents/cleaning-words.js';
import { allergensCarried } from '#libs/syrup/contents/judge-defoamer.js';

interface Where {
  readonly sql: Sql;
  readonly sugarhouse: string;
}

/** What a boil leaves in the pans: the allergens answered for its defoamer, and those that its name says. */
export const leftInPans = ({ defoamer, defoamerAllergens }: BoilBody): string[] =>
  allergensCarried([{ names: [defoamer], answers: [defoamerAllergens] }]);

/**
 * Of each of these boils, the allergens of the boils before it since the pans were last washed. So far back that no turn
 * of the year comes between; that pans are washed within a year is common practice, no source.
 */
export async function pansBefore({ sql, sugarhouse }: Where, boils: readonly Lot[]): Promise<(boil: Lot) => string[]> {
  const times = boils.map(({ atUtc }) => atUtc).sort();
  const [first, last] = [times[0], times.at(-1)];
  if (first === undefined || last === undefined) return () => [];
  const used = await boilsWithDefoamer({ sql, sugarhouse }, aYearBefore(first), last);
  const earlier = used.filter(({ body }) => leftInPans(body).length > 0);
  if (earlier.length === 0) return () => [];
  const washed = await pansWashed({ sql, sugarhouse });
  return ({ atUtc }) => {
    const lastWashed = washed.findLast((each) => each <= atUtc) ?? '';
    const from = [lastWashed, aYearBefore(atUtc)].sort().at(-1) ?? '';
    const since = earlier.filter((each) => each.atUtc < atUtc && each.atUtc > from);
    return [...new Set(since.flatMap(({ body }) => leftInPans(body)))];
  };
}

/** When the pans were washed, the oldest first. */
export async function pansWashed({ sql, sugarhouse }: Where): Promise<string[]> {
  const cleanings = await recordsOf({ sql, sugarhouse }, 'cleaning');
  return cleanings.flatMap(({ atUtc, body }) => (washesPans(textIn(body, 'what')) ? [atUtc] : []));
}

const aYearBefore = (utc: string): string => `${Number(utc.slice(0, 4)) - 1}${utc.slice(4)}`;
