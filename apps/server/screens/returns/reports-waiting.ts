import { fromJarPage } from '#libs/actions/jars/jar-reports.js';
import { momentIn } from '#libs/actions/record/times.js';
import { type JarReport, reportsWaitingOf } from '#libs/store/household/jar-reports.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { recordsOf } from '#libs/store/queries/lots.js';
import { findUnclearText } from '#libs/syrup/free-text/harmless-text.js';
import { findHarm } from '#libs/syrup/free-text/find-harm.js';
import { findSpoilage } from '#libs/syrup/free-text/find-spoilage.js';
import { isAllowed } from '../../http/access.js';
import type { WorkInProgress } from './work-in-progress.js';
import type { Principal } from '../../http/principal.js';
import { dayText } from '../../text/times.js';

/**
 * What customers said that waits for a maker: complaints that name no lot and so hold nothing, unread reports from jar
 * pages, then complaints made from those without a recorded action.
 */
export async function reportsWaiting(principal: Principal, zone: string, now: string): Promise<WorkInProgress[]> {
  const house = readerOf(principal);
  const waiting = await reportsWaitingOf(house);
  const complaints = await recordsOf(house, 'complaint');
  return [
    ...complaints
      .filter(({ lot }) => lot === undefined)
      .reverse()
      .map(({ id, body }) => ({
        code: id,
        href: `/records/complaint/${encodeURIComponent(id)}`,
        sentence: `${dayText(String(body.at), now)}, no lot named, so nothing is held: ${shorten(String(body.said))}`,
        next: { href: `/records/complaint/${encodeURIComponent(id)}/correct`, text: 'Name its lot' },
      })),
    ...waiting.slice(0, 20).map((report) => {
      const href = `/returns/reports/${report.id}`;
      const sentence = `${reportDay(report, zone, now)}, jar ${report.jar}: ${shorten(report.said)}`;
      return { code: report.lot, href, sentence, next: { href, text: 'Read the report' } };
    }),
    ...complaints
      .filter(({ lot, body }) => body.from === fromJarPage && lot !== undefined && !body.done)
      .reverse()
      .slice(0, 20)
      .map(({ id, body }) => ({
        code: id,
        href: `/records/complaint/${encodeURIComponent(id)}`,
        sentence: `${dayText(String(body.at), now)}, jar ${String(body.jar)}: ${shorten(String(body.said))}`,
        next: { href: `/records/complaint/${encodeURIComponent(id)}/correct`, text: 'Record what was done' },
      })),
  ];
}

/**
 * A lot's waiting reports, for its page and the people who work on it: those that mention mould or a bad seal warn
 * before anyone has read them.
 */
export async function reportsOfLot(principal: Principal, lot: string, zone: string, now: string) {
  if (!isAllowed(principal.role, 'helper')) return [];
  const all = await reportsWaitingOf(readerOf(principal), lot);
  return all.slice(0, 20).map((report) => ({
    href: `/returns/reports/${report.id}`,
    jar: report.jar,
    when: reportDay(report, zone, now),
    warns: warnsOfSpoilage(report),
    said: shorten(report.said),
  }));
}

/**
 * Words that suggest other jars of the lot may be bad too. Only a warning: the lot is held once a maker accepts the
 * report.
 */
export const warnsOfSpoilage = ({ said }: Pick<JarReport, 'said'>): boolean =>
  findSpoilage(said).length > 0 || findHarm(said).length > 0 || findUnclearText(said) !== undefined;

/** The day on which a customer's report was sent, in the house's time zone. */
export const reportDay = ({ sentAt }: JarReport, zone: string, now: string): string =>
  dayText(momentIn(zone, new Date(sentAt)), now);

const readerOf = ({ book, writeContext }: Principal) => sugarhouseReader(book.read, writeContext.sugarhouse);

const shorten = (text: string): string => (text.length > 140 ? `${text.slice(0, 139)}…` : text);
