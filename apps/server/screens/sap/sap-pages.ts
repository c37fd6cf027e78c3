import { cautions } from '#libs/actions/places/cautions.js';
import { gatheringFields } from '#libs/actions/kinds/gathering.js';
import { formatDensity } from '#libs/syrup/quantities/format-quantities.js';
import type { ReceiptBody } from '#libs/records/kinds/receipt.js';
import { receiptFields } from '#libs/actions/kinds/receipt.js';
import { momentIn } from '#libs/actions/record/times.js';
import { recordsNamed } from '#libs/store/connection/batch-queries.js';
import type { LotInProgress } from '#libs/store/queries/work-in-progress.js';
import { lotsListed } from '#libs/store/queries/lists.js';
import { desktopTable } from '../../desktop/desktop-table.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { sapTable } from './sap-table.js';
import { withRemembered } from '../../forms/remembered.js';
import { formContext, formGroups, problemView, type SubmittedForm } from '../../forms/form-view.js';
import { mayWrite } from '../../http/may-write.js';
import type { Principal } from '../../http/principal.js';
import { volumeText } from '#libs/format/format-house-volume.js';
import { rowsPerPage, firstRow, listOptions, pagedRows } from '../../text/paged-rows.js';
import { momentText } from '../../text/times.js';

/** Sap and syrup that came in, newest first, a hundred at a time, with what is left of each. */
export async function sapPage(principal: Principal, query: Posted) {
  const { measures, parseOptions: options } = await formContext(principal);
  const { read } = principal.book;
  const { sugarhouse } = principal.writeContext;
  const now = momentIn(options.zone, principal.writeContext.now);
  const from = firstRow(firstText(query['from']));
  const { count, lots } = await lotsListed(
    { sql: read, sugarhouse },
    'gathering',
    { from, most: rowsPerPage },
    'receipt',
  );
  const codes = lots.map((lot) => lot.code);
  const record = await recordsNamed({ sql: read, sugarhouse }, ['gathering', 'receipt'], codes);
  const rows = lots.map((lot) => {
    const body = record(lot.kind === 'gathering' ? 'gathering' : 'receipt', lot.code)?.body;
    const left = volumeText(lot.leftMillilitres ?? 0, measures.volumes, measures.canada);
    return {
      code: lot.code,
      state: lot.state,
      from: body && ('source' in body ? body.source : boughtFrom(body)),
      amount: body?.volume.typed ?? '',
      left: (lot.leftMillilitres ?? 0) < 1 ? 'used' : leftText(lot, left),
      when: momentText(lot.at, now),
    };
  });
  const more = pagedRows(rows, from, count, listOptions('/sap', 'gathering and receipt', 'gatherings and receipts'));
  return {
    title: 'Sap',
    here: 'today',
    rows,
    more,
    desktop: desktopTable(await sapTable(principal, query), query),
  };
}

const leftText = (lot: LotInProgress, left: string): string =>
  Math.abs((lot.leftMillilitres ?? 0) - (lot.millilitres ?? 0)) < 1 ? 'all of it waiting' : `${left} left`;

/** The form for gathered sap. */
export async function gatherPage(principal: Principal, request: SubmittedForm = {}) {
  const houseContext = await formContext(principal);
  const { remembered, same, sent } = await withRemembered(principal, ['source'], request);
  return {
    title: 'Gather sap',
    here: 'today',
    crumb: { href: '/sap', text: 'Sap' },
    sentence: 'Sap from buckets, bags and tanks, brought to the sugarhouse. Keep it cold and boil it soon.',
    cautions: cautions('sap'),
    form: {
      action: '/sap/gather',
      takesPhoto: true,
      submitLabel: 'Save',
      draft: 'gather',
      focus: 'volume',
      same,
      problem: problemView(sent.problem, gatheringFields),
      groups: formGroups(
        {
          ...gatheringFields,
          id: {
            ...gatheringFields.id,
            needed: false,
            hint: 'Your own number; leave blank for the next one',
          },
        },
        [
          { names: ['volume', 'source', 'gatheredAt'] },
          { legend: 'Readings', text: 'Leave blank what was not read.', names: ['sugar', 'temperature', 'condition'] },
          { names: ['handling', 'thrownOut'] },
          { folded: 'Your own lot number, initials', names: ['id', 'by'] },
        ],
        houseContext,
        sent,
        { when: 'live', remembered },
      ),
    },
    alternative: mayWrite(principal, 'receipt')
      ? { href: '/sap/receive', text: 'Bought, or from a neighbour? Record it here.' }
      : undefined,
  };
}

/** The form for bought sap or syrup. */
export async function receivePage(principal: Principal, request: SubmittedForm = {}) {
  const houseContext = await formContext(principal);
  const { remembered, same, sent } = await withRemembered(principal, ['supplier'], request);
  return {
    title: 'Record bought sap or syrup',
    here: 'today',
    crumb: { href: '/sap', text: 'Sap' },
    sentence: 'Record the supplier and how to reach them (traceability one step back).',
    cautions: cautions('sap'),
    form: {
      action: '/sap/receive',
      takesPhoto: true,
      submitLabel: 'Save',
      draft: 'receive',
      focus: 'volume',
      same,
      problem: problemView(sent.problem, receiptFields),
      groups: formGroups(
        { ...receiptFields, id: { ...receiptFields.id, needed: false } },
        [
          { names: ['volume', 'density', 'allergens', 'receivedAt'] },
          { legend: 'From whom', names: ['supplier', 'contact', 'theirLot'] },
          { folded: 'Your own lot number, initials', names: ['id', 'by'] },
        ],
        houseContext,
        sent,
        { when: 'live', remembered },
      ),
    },
    alternative: { href: '/sap/gather', text: 'Your own sap? Record it here.' },
  };
}

/** The seller, and the density if it was recorded: it shows whether sap or syrup was bought. */
const boughtFrom = ({ supplier, density }: ReceiptBody): string =>
  density ? `${supplier}, ${formatDensity(density)}` : supplier;
