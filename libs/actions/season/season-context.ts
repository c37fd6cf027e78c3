import { peopleOf } from '#libs/store/household/household.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { cautions } from '../places/cautions.js';
import { type Desk, groundOf } from '../record/write-context.js';
import { momentIn } from '../record/times.js';

/** What a season's documents need beside the records: the place, its cautions, people's names, and the time. */
export async function seasonGround(sql: Sql, desk: Pick<Desk, 'sugarhouse' | 'now' | 'zone'>) {
  const { place, manner } = await groundOf(sql, desk);
  const people = await peopleOf(sql, desk.sugarhouse);
  return {
    place,
    cautions: cautions().map((each) => ({ words: each.text, source: each.source })),
    people: people.map(({ initials, name, role }) => ({ initials, name, role })),
    asOf: momentIn(manner.zone, desk.now),
  };
}
