import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { momentIn } from '#libs/actions/record/times.js';
import { historyOf } from '#libs/store/log/log.js';
import type { NumberedEntry } from '#libs/records/entry.js';
import { recordsOfKindsAbout } from '#libs/store/connection/batch-queries.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { taperSvg } from '#libs/reports/diagram/lot-diagram.js';
import { taperWords } from '#libs/reports/diagram/description.js';
import { one, type Posted } from '../../forms/field-view.js';
import { formGround, type Sent } from '../../forms/form-view.js';
import { seenOn } from '../../forms/last-seen.js';
import type { Visitor } from '../../http/principal.js';
import { findingViews } from '../../text/findings.js';
import { firstHundred } from '../../text/first-hundred.js';
import { ledgerLines } from '../../text/history.js';
import { clock, dayWords } from '../../text/times.js';
import { boilPart } from './boil-part.js';
import { aboutLots, type LotGround, type LotPart } from './lot-context.js';
import { taperFrom, taperLengthPt } from './lot-diagram.js';
import { cameBackRows } from '../returns/return-rows.js';
import { withTaps } from './finding-taps.js';
import { packPart } from './pack-part.js';
import { readStrands } from './read-branches.js';
import { sapPart } from './sap-part.js';

/** A lot's page: the taper, the stamp, what matters now, findings, and the ledger. */
export async function lotPage(
  who: Visitor,
  code: string,
  sent: Sent = {},
  asked: Posted = {},
): Promise<LotPart | Refusal> {
  const { read } = who.book;
  const lot = await lookUpLot(read, who.desk.sugarhouse, code);
  if (!lot) return unknown('lot', code);
  const ground = await formGround(who);
  const now = momentIn(ground.manner.zone, who.desk.now);
  const history = await historyOf(read, who.desk.sugarhouse, lot.code);
  const strands = await readStrands(read, who.desk.sugarhouse, [lot]);
  const about = await recordsOfKindsAbout(read, who.desk.sugarhouse, lot.code, aboutLots);
  const taper = taperFrom(strands, lot, who.desk.now);
  const at: LotGround = { ...ground, who, lot, now, history, asked, strands, about };
  const part = await partOf(at, sent);
  const address = `/lots/${encodeURIComponent(lot.code)}`;
  const ledger = firstHundred(ledgerLines(history, now).reverse(), one(asked['ledger']), {
    address,
    param: 'ledger',
    noun: 'entry',
    plural: 'entries',
  });
  return {
    template: part.template,
    told: {
      title: lot.code,
      code: lot.code,
      state: lot.state,
      ...(sent.problem ? await seenOn(who, sent.problem, lot.code) : {}),
      seen: lot.lastSeq,
      stamp: stampOf(lot, history, now),
      across: taperSvg(taper, 'across', taperLengthPt),
      down: taperSvg(taper, 'down'),
      wayWords: taperWords(taper),
      cameBack: cameBackRows(about('complaint'), now),
      findings: await withTaps(who, lot.code, findingViews(lot.verdict?.findings ?? [])),
      ledger: ledger.rows,
      olderEntries: ledger,
      ...part.told,
    },
  };
}

function partOf(at: LotGround, sent: Sent): Promise<LotPart> {
  switch (at.lot.kind) {
    case 'boil':
      return boilPart(at);
    case 'pack':
      return packPart(at, sent);
    case 'gathering':
    case 'receipt':
      return sapPart(at);
  }
}

/** The stamp and the sentence under it: why it is held, or who let it go and when. */
function stampOf(lot: Lot, history: readonly NumberedEntry[], now: string) {
  if (lot.state === 'open') return undefined;
  const deed = { held: 'hold', released: 'release', recalled: 'recall' }[lot.state];
  const entry = history.filter((each) => each.deed === deed).at(-1);
  const words = lot.state.toUpperCase();
  const by = entry && `${entry.by}, ${dayWords(entry.happenedAt, now)} ${clock(entry.happenedAt)}`;
  const since = lot.heldSince && `since ${dayWords(lot.heldSince, now)} ${clock(lot.heldSince)}`;
  const stop = lot.verdict?.findings.find((finding) => finding.stop);
  const why = entry?.why ?? (stop ? `Found ${stop.found}; asked ${stop.limit}.` : '');
  return { word: words, kind: lot.state, by: by ?? since ?? '', why };
}
