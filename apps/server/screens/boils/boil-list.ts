import { momentIn } from '#libs/actions/record/times.js';
import { DesktopTableView } from '#pages/parts/desktop-table.js';
import { LotRows } from '#pages/parts/lot-list.js';
import type { LotRow } from '#pages/parts/lots-by-year.js';
import { wantsAllRows, desktopTable } from '../../desktop/desktop-table.js';
import { smallDiagrams } from '../../diagram/lot-diagram.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { formContext } from '../../forms/form-view.js';
import { cachedWhileUnchanged } from '../../http/cached-while-unchanged.js';
import { readerOf, type Principal } from '../../http/principal.js';
import { renderPart } from '../../http/render.js';
import { volumeText } from '#libs/format/format-house-volume.js';
import { rowsPerPage, firstRow, listOptions, pagedRows } from '../../text/paged-rows.js';
import { filteredAsDrawn } from './filtered-as-drawn.js';
import { boilSentence } from '../../text/lot-sentence.js';
import { dayText } from '../../text/times.js';
import { type BoilRead, boilRows, boilsTable } from './boils-table.js';

/** Boils, newest first, a hundred at a time, each with its current state. */
export async function boilsPage(principal: Principal, query: Posted) {
  const from = firstRow(firstText(query['from']));
  const { count, rows: boils } = await boilRows(principal, { from, most: rowsPerPage });
  const drawTable = async () =>
    renderPart(DesktopTableView({ desktop: desktopTable(await boilsTable(principal, query), query) }));
  return {
    title: 'Boils',
    here: 'boils',
    more: pagedRows(boils, from, count, listOptions('/boils', 'boil')),
    // A search or sort order is one person's; the plain table and the list are drawn once for everyone.
    table: await (wantsAllRows(query)
      ? drawTable()
      : cachedWhileUnchanged(principal, `table of boils ${from}`, drawTable)),
    body: await cachedWhileUnchanged(principal, `list of boils ${from}`, async () =>
      renderPart(LotRows({ rows: await lotRows(principal, boils), none: 'No boil yet.' })),
    ),
  };
}

async function lotRows(principal: Principal, boils: readonly BoilRead[]): Promise<LotRow[]> {
  const { measures, parseOptions: options } = await formContext(principal);
  const now = momentIn(options.zone, principal.writeContext.now);
  const drawings = await smallDiagrams(
    principal,
    boils.map(({ lot }) => lot),
  );
  const filtered = await filteredAsDrawn(
    readerOf(principal),
    boils.map(({ lot, body }) => ({ code: lot.code, body })),
  );
  return boils.map(({ lot, body }) => ({
    code: lot.code,
    state: lot.state,
    year: lot.year,
    day: dayText(lot.at, now),
    amount: body?.syrupVolume?.typed ?? '',
    sentence: body
      ? boilSentence(
          body,
          {
            millilitres: lot.leftMillilitres,
            text: volumeText(lot.leftMillilitres ?? 0, measures.volumes, measures.canada),
            filteredAsDrawn: filtered.has(lot.code),
            isStopped: lot.state === 'held' || lot.state === 'recalled',
          },
          now,
        )
      : '',
    diagram: drawings.get(lot.code),
  }));
}
