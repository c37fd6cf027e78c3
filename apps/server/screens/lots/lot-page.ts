import { foundAndRequired } from '#libs/format/as-sentence.js';
import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { momentIn } from '#libs/actions/record/times.js';
import { photosAbout } from '#libs/store/household/attachments.js';
import { historyOf } from '#libs/store/log/log.js';
import type { NumberedEntry } from '#libs/records/entry.js';
import { recordsOfKindsAbout } from '#libs/store/connection/batch-queries.js';
import { balanceChangesUntil } from '#libs/store/queries/jar-balance.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { cachedLotDrawing } from '../../diagram/cached-drawings.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { formContext, type SubmittedForm, statusFor } from '../../forms/form-view.js';
import { lastSeenFor } from '../../forms/last-seen.js';
import { lotCacheSlot, type LotValue } from '../../http/lot-cache.js';
import { mayWrite } from '../../http/may-write.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { type CachedPage, cachedPage, type HtmlPage, htmlPage } from '../../http/responses.js';
import { findingViews } from '../../text/findings.js';
import { pageOfRows } from '../../text/paged-rows.js';
import { photoRows } from '../../text/photo-rows.js';
import { historyLinesOf } from '../../text/history.js';
import { clock, dayText } from '../../text/times.js';
import { boilProps } from './boil-props.js';
import { aboutLots, type LotContext } from './lot-context.js';
import { diagramFrom, diagramLengthPt } from '../../diagram/lot-diagram.js';
import { voidedLotPage } from '../records/voided-page.js';
import { reportsOfLot } from '../returns/reports-waiting.js';
import { returnRows } from '../returns/return-rows.js';
import { withTaps } from './finding-taps.js';
import { packProps } from './pack-props.js';
import { readBranches } from '../../diagram/read-branches.js';
import { sapProps } from './sap-props.js';
import { BoilPage } from '#pages/lots/boil.js';
import type { LotProps } from '#pages/lots/lot-props.js';
import { PackPage, type PackProps } from '#pages/lots/pack.js';
import { SapPage } from '#pages/lots/sap.js';
import { VoidedPage } from '#pages/records/voided.js';

/** A lot's page: its diagram, its status, what to do now, findings, and its history. */
export async function lotPage(
  principal: Principal,
  code: string,
  sent: SubmittedForm = {},
  query: Posted = {},
): Promise<HtmlPage | Refusal> {
  const reader = readerOf(principal);
  const houseContext = await formContext(principal);
  const { zone } = houseContext.parseOptions;
  const now = momentIn(zone, principal.writeContext.now);
  const isCacheable = !sent.problem && Object.keys(query).length === 0;
  const slot = isCacheable
    ? await lotCacheSlot<CachedLotPage>(principal, `page of ${code} for ${principal.role}`)
    : undefined;
  // Customers' reports are not in the log, and a page with some is not cached.
  if (slot?.value && (await reportsOfLot(principal, code, zone, now)).length === 0) return cachedPage(slot.value);
  const lot = await lookUpLot(reader, code);
  if (!lot) {
    const voided = await voidedLotPage(principal, code);
    return voided ? htmlPage(VoidedPage, voided) : unknown('lot', code);
  }
  // Read together, so that they go to the database in one batch.
  const [history, branches, about, reports] = await Promise.all([
    historyOf(reader, lot.code),
    readBranches(reader, [lot]),
    recordsOfKindsAbout(reader, lot.code, aboutLots),
    reportsOfLot(principal, lot.code, zone, now),
  ]);
  const context: LotContext = { ...houseContext, principal, lot, now, history, query, branches, about };
  const shared = await sharedProps(context, reports, sent);
  const status = statusFor(sent.problem);
  switch (lot.kind) {
    case 'boil':
      return htmlPage(BoilPage, { ...shared, ...(await boilProps(context)) }, status);
    case 'pack': {
      const props = { ...shared, ...(await packProps(context, sent)) };
      const account = branches.account(lot.code);
      // Under another spelling the code may later be found to be another lot's id.
      const cachePage = account && lot.code === code && isSameForEveryone(props) ? slot?.put : undefined;
      const changesUntil = account ? balanceChangesUntil(account) : '';
      return htmlPage(
        PackPage,
        props,
        status,
        cachePage && ((page) => cachePage({ ...page, lot: code, changesUntil, bytes: page.body.bytes.length })),
      );
    }
    case 'gathering':
    case 'receipt':
      return htmlPage(SapPage, { ...shared, ...(await sapProps(context)) }, status);
  }
}

/** What the pages of all kinds of lot show. */
async function sharedProps(
  { principal, lot, now, history, query, branches, about }: LotContext,
  reports: LotProps['reports'],
  { problem }: SubmittedForm,
): Promise<LotProps> {
  const address = `/lots/${encodeURIComponent(lot.code)}`;
  const historyRows = pageOfRows(historyLinesOf(history, now).reverse(), firstText(query['history']), {
    address,
    param: 'history',
    noun: 'entry',
    plural: 'entries',
  });
  return {
    title: lot.code,
    code: lot.code,
    state: lot.state,
    ...(problem ? await lastSeenFor(principal, problem, lot.code) : {}),
    seen: lot.lastSeq,
    stamp: statusStamp(lot, history, now),
    drawing: cachedLotDrawing(diagramFrom(branches, lot, principal.writeContext.now), diagramLengthPt),
    complaints: returnRows(about('complaint'), now),
    reports,
    findings: await withTaps(principal, lot.code, findingViews(lot.verdict?.findings ?? [])),
    history: historyRows.rows,
    olderEntries: historyRows,
    historyOpen: firstText(query['history']) !== '',
    remedy: holdRemedy(lot),
    // The history has each photo's entry: without one there is no photo to read.
    photos: history.some((entry) => entry.photo) ? photoRows(await photosAbout(readerOf(principal), lot.code)) : [],
    addPhoto: mayWrite(principal, 'photo') ? `/photos/of/${lot.kind}/${encodeURIComponent(lot.code)}` : undefined,
  };
}

interface CachedLotPage extends CachedPage, LotValue {}

/** Whether the page may be cached: a finished pack, no form, and data only from entries about it and its sources. */
const isSameForEveryone = ({ underway, reports, next, findings }: LotProps & PackProps): boolean =>
  !underway &&
  reports.length === 0 &&
  next?.post === undefined &&
  // Whether one tap answers this depends on the answers of other boils.
  findings.every(({ rule, taps = [] }) => taps.length === 0 && rule !== 'defoamer-allergens');

/** The stamp and the sentence under it: why it is held, or who released it and when. */
function statusStamp(lot: Lot, history: readonly NumberedEntry[], now: string) {
  if (lot.state === 'open') return undefined;
  const entryType = { held: 'hold', released: 'release', recalled: 'recall' }[lot.state];
  const entry = history.filter((each) => each.entryType === entryType).at(-1);
  const text = lot.state.toUpperCase();
  const by = entry && `${entry.by}, ${dayText(entry.happenedAt, now)} ${clock(entry.happenedAt)}`;
  const since = lot.heldSince && `since ${dayText(lot.heldSince, now)} ${clock(lot.heldSince)}`;
  const stop = lot.verdict?.findings.find((finding) => finding.stop);
  const why = entry?.why ?? (stop ? foundAndRequired(stop) : '');
  return { word: text, kind: lot.state, by: by ?? since ?? '', why };
}

/** What to do about a held lot, for the first hold rule that it breaks. */
const holdRemedy = (lot: Lot): string =>
  lot.state === 'held' ? (findingViews(lot.verdict?.findings ?? []).find(({ stop }) => stop)?.mayDo ?? '') : '';
