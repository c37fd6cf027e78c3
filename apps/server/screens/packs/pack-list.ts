import { momentIn } from '#libs/actions/record/times.js';
import { noJars } from '#libs/store/queries/jar-balance.js';
import { classSwatch } from '#libs/reports/diagram/swatch.js';
import { DesktopTableView } from '#pages/parts/desktop-table.js';
import { LotRows } from '#pages/parts/lot-list.js';
import type { LotRow } from '#pages/parts/lots-by-year.js';
import { wantsAllRows, desktopTable } from '../../desktop/desktop-table.js';
import { smallDiagrams } from '../../diagram/lot-diagram.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { formContext } from '../../forms/form-view.js';
import { cachedWhileUnchanged } from '../../http/cached-while-unchanged.js';
import type { Principal } from '../../http/principal.js';
import { renderPart } from '../../http/render.js';
import { rowsPerPage, firstRow, listOptions, pagedRows } from '../../text/paged-rows.js';
import { packSentence } from '../../text/lot-sentence.js';
import { dayText } from '../../text/times.js';
import { type PackRow, packRows, packsTable } from './packs-table.js';

/** Packs, newest first, a hundred at a time, each with its current state. */
export async function packsPage(principal: Principal, query: Posted) {
  const from = firstRow(firstText(query['from']));
  const { count, rows: packs } = await packRows(principal, { from, most: rowsPerPage });
  const drawTable = async () =>
    renderPart(DesktopTableView({ desktop: desktopTable(await packsTable(principal, query), query) }));
  return {
    title: 'Packs',
    here: 'packs',
    more: pagedRows(packs, from, count, listOptions('/packs', 'pack')),
    // A search or sort order is one person's; the plain table and the list are drawn once for everyone.
    table: await (wantsAllRows(query)
      ? drawTable()
      : cachedWhileUnchanged(principal, `table of packs ${from}`, drawTable)),
    body: await cachedWhileUnchanged(principal, `list of packs ${from}`, async () =>
      renderPart(LotRows({ rows: await lotRows(principal, packs, from), none: 'No pack yet.' })),
    ),
  };
}

async function lotRows(principal: Principal, packs: readonly PackRow[], from: number): Promise<LotRow[]> {
  const { parseOptions: options } = await formContext(principal);
  const now = momentIn(options.zone, principal.writeContext.now);
  const drawings = await cachedWhileUnchanged(principal, `ways of packs ${from}`, () =>
    smallDiagrams(
      principal,
      packs.map(({ lot }) => lot),
    ),
  );
  return packs.map(({ lot, body, jars = noJars }) => ({
    code: lot.code,
    state: lot.state,
    year: lot.year,
    day: dayText(lot.at, now),
    container: lot.container ?? '',
    diagram: drawings.get(lot.code),
    sentence: body ? packSentence(lot, body, jars, now) : '',
    swatch: lot.verdict?.colour ? classSwatch(lot.verdict.colour) : undefined,
  }));
}
