import { peopleOf } from '#libs/store/household/household.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { cautions } from '../places/cautions.js';
import { type WriteContext, loadSugarhouseContext } from '../record/write-context.js';
import { momentIn } from '../record/times.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** What a season's documents need besides the records: the place, its cautions, people's names, and the time. */
export async function loadSeasonContext(sql: Sql, context: Pick<WriteContext, 'sugarhouse' | 'now' | 'zone'>) {
  const { place, parseOptions: options } = await loadSugarhouseContext(sql, context);
  const people = await peopleOf(sugarhouseReader(sql, context.sugarhouse));
  return {
    place,
    cautions: cautions().map((each) => ({ words: each.text, source: each.source })),
    people: people.map(({ initials, name, role }) => ({ initials, name, role })),
    asOf: momentIn(options.zone, context.now),
  };
}
