import { addFillReading } from '#libs/actions/lots/add-fill-reading.js';
import { loadThermometers } from '#libs/actions/facts/thermometers.js';
import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import type { Recorded } from '#libs/actions/record/record.js';
import { momentIn } from '#libs/actions/record/times.js';
import { loadSugarhouseContext, type WriteContext } from '#libs/actions/record/write-context.js';
import { findSent } from '#libs/store/log/log.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { withUnit } from '../../forms/with-unit.js';
import { photoOf, writeContextOf } from '../../forms/write-record.js';
import { lastReadingWasLow } from '../lots/fill-views.js';
import type { Principal } from '../../http/principal.js';
import { parseFillForm } from './fill-form.js';

/** Records one more fill temperature with its time; it is judged as soon as it is written. */
export async function fillJar(principal: Principal, code: string, posted: Posted): Promise<Recorded | Refusal> {
  const context = writeContextOf(principal, posted);
  const house = sugarhouseReader(principal.book.read, context.sugarhouse);
  const pack = await findRecord(house, 'pack', code);
  if (!pack) return unknown('pack', code);
  const repeat = await findRepeat(house, context, code, posted);
  if (repeat) return repeat;
  const { parseOptions } = await loadSugarhouseContext(principal.book.read, context);
  const thermometers = await loadThermometers(house, Number(pack.body.packedAt.slice(0, 4)));
  const reading = parseFillForm(posted, {
    clock: formatClock(takenAt(posted, context.now), parseOptions.zone, pack.body.packedAt),
    pack: pack.body,
    afterColdReading: lastReadingWasLow(pack.body, thermometers),
  });
  if ('problem' in reading) return reading;
  return addFillReading(principal.book, context, { pack: code, reading, photo: photoOf(principal, posted) });
}

/**
 * The same reading sent again, because its response was lost: its jars were counted when it was first saved, and are
 * not counted anew.
 */
async function findRepeat(
  house: SugarhouseReader,
  { author, key }: WriteContext,
  code: string,
  posted: Posted,
): Promise<Recorded | undefined> {
  const entry = key === undefined ? undefined : await findSent(house, author, key);
  if (entry?.record?.kind !== 'pack' || entry.record.id !== code) return undefined;
  const typed = withUnit(firstText(posted['temperature']), firstText(posted['temperature~unit']));
  const upTo = firstText(posted['upTo']);
  const fill = entry.record.typed['fillTemps']?.split(';').at(-1) ?? '';
  const isSame = fill.startsWith(`${typed}@`) && (upTo === '' || new RegExp(`\\b${Number(upTo)}$`).test(fill));
  return isSame ? { entry: entry.seq, id: code, outcome: 'again', notes: [] } : undefined;
}

/**
 * When the jar was read: the time that the browser stored while the server was unreachable, else so many minutes ago.
 */
function takenAt(posted: Posted, now: Date): Date {
  const saved = Date.parse(firstText(posted['takenAt']));
  if (!Number.isNaN(saved)) return new Date(Math.min(saved, now.getTime()));
  const minutesAgo = Math.min(24 * 60, Math.max(0, Number(firstText(posted['ago'])) || 0));
  return new Date(now.getTime() - minutesAgo * 60_000);
}

/** `10:10`, with its date if the jar was read on another day than the pack was begun. */
function formatClock(readAt: Date, zone: string, packedAt: string): string {
  const moment = momentIn(zone, readAt).slice(0, 16);
  return moment.slice(0, 10) === packedAt.slice(0, 10) ? moment.slice(11) : moment;
}
