import { loadSeasonContext } from '#libs/actions/season/season-context.js';
import type { SeasonContext } from '#libs/actions/season/read-season.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import type { Principal } from './principal.js';

/** Reads the sugarhouse that somebody is in, with what its documents need beside the records, in one view of the book. */
export const seasonSnapshot = <Read>(
  principal: Principal,
  read: (reader: SugarhouseReader, context: SeasonContext) => Promise<Read>,
): Promise<Read> =>
  principal.book.snapshot(
    async (sql) =>
      read(
        sugarhouseReader(sql, principal.writeContext.sugarhouse),
        await loadSeasonContext(sql, principal.writeContext),
      ),
    { rerun: true },
  );
