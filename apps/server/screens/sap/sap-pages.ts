import { cautions } from '#libs/actions/places/cautions.js';
import { gatheringFields } from '#libs/actions/kinds/gathering.js';
import { receiptFields } from '#libs/actions/kinds/receipt.js';
import { momentIn } from '#libs/actions/record/times.js';
import type { GatheringBody, ReceiptBody } from '#libs/records/record-types.js';
import { recordsNamed } from '#libs/store/connection/batch-queries.js';
import type { LotInHand } from '#libs/store/queries/work-in-progress.js';
import { lotsListed } from '#libs/store/queries/lists.js';
import { formGround, formGroups, problemView, type Sent } from '../../forms/form-view.js';
import { mayWrite } from '../../http/may-write.js';
import type { Visitor } from '../../http/principal.js';
import { volumeWords } from '../../text/amounts.js';
import { atOnce, beginsAt, listOf, shownPart } from '../../text/first-hundred.js';
import { momentWords } from '../../text/times.js';

/** Sap and syrup that came in, newest first, a hundred at a time, with what is left of each. */
export async function sapPage(who: Visitor, asked: string) {
  const { measures, manner } = await formGround(who);
  const { read } = who.book;
  const { sugarhouse } = who.desk;
  const now = momentIn(manner.zone, who.desk.now);
  const from = beginsAt(asked);
  const { count, lots } = await lotsListed(read, sugarhouse, 'gathering', { from, most: atOnce }, 'receipt');
  const codes = lots.map((lot) => lot.code);
  const record = await recordsNamed(read, sugarhouse, ['gathering', 'receipt'], codes);
  const rows = lots.map((lot) => {
    const body = record<GatheringBody | ReceiptBody>(lot.kind, lot.code)?.body;
    const left = volumeWords(lot.leftMillilitres ?? 0, measures.volumes, measures.canada);
    return {
      code: lot.code,
      state: lot.state,
      from: body && ('source' in body ? body.source : body.supplier),
      amount: body?.volume.typed ?? '',
      left: (lot.leftMillilitres ?? 0) < 1 ? 'used' : leftWords(lot, left),
      when: momentWords(lot.at, now),
    };
  });
  const more = shownPart(rows, from, count, listOf('/sap', 'gathering and receipt', 'gatherings and receipts'));
  return { title: 'Sap', here: 'today', rows, more };
}

const leftWords = (lot: LotInHand, left: string): string =>
  Math.abs((lot.leftMillilitres ?? 0) - (lot.millilitres ?? 0)) < 1 ? 'all of it waiting' : `${left} left`;

export async function gatherPage(who: Visitor, sent: Sent = {}) {
  const ground = await formGround(who);
  return {
    title: 'Gather sap',
    here: 'today',
    crumb: { href: '/sap', words: 'Sap' },
    sentence: 'From buckets, bags and tanks, brought to the house. Cold and soon.',
    cautions: cautions('sap'),
    form: {
      action: '/sap/gather',
      deed: 'Write it down',
      draft: 'gather',
      problem: problemView(sent.problem, gatheringFields),
      groups: formGroups(
        {
          ...gatheringFields,
          id: {
            ...gatheringFields.id,
            needed: false,
            hint: 'Your own number; left blank, the book gives the next one',
          },
        },
        [
          { names: ['volume', 'source', 'gatheredAt'] },
          { legend: 'Readings', words: 'What wasn’t read stays blank.', names: ['sugar', 'temperature', 'condition'] },
          { folded: 'Own number, initials', names: ['id', 'by'] },
        ],
        ground,
        sent,
        { when: 'live' },
      ),
    },
    otherwise: mayWrite(who, 'receipt')
      ? { href: '/sap/receive', words: 'Bought or a neighbour’s? Write it down here.' }
      : undefined,
  };
}

export async function receivePage(who: Visitor, sent: Sent = {}) {
  const ground = await formGround(who);
  return {
    title: 'Take in sap or syrup',
    here: 'today',
    crumb: { href: '/sap', words: 'Sap' },
    sentence: 'Bought, or a neighbour’s. The book keeps one step back: from whom, and how to reach them.',
    cautions: cautions('sap'),
    form: {
      action: '/sap/receive',
      deed: 'Write it down',
      draft: 'receive',
      problem: problemView(sent.problem, receiptFields),
      groups: formGroups(
        { ...receiptFields, id: { ...receiptFields.id, needed: false } },
        [
          { names: ['volume', 'density', 'receivedAt'] },
          { legend: 'From whom', names: ['supplier', 'contact', 'theirLot'] },
          { folded: 'Own number, initials', names: ['id', 'by'] },
        ],
        ground,
        sent,
        { when: 'live' },
      ),
    },
    otherwise: { href: '/sap/gather', words: 'Your own sap? Write it down here.' },
  };
}
