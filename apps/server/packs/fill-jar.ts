import { groundOf } from '#libs/actions/desk.js';
import { packsUnderway } from '#libs/actions/pack-syrup.js';
import { invalid, unknown, type Refusal } from '#libs/actions/problem.js';
import { record, type Recorded } from '#libs/actions/record.js';
import { momentIn } from '#libs/actions/times.js';
import type { PackBody } from '#libs/records/bodies.js';
import { findRecord } from '#libs/records/lots.js';
import { parseTemperature } from '#libs/syrup/quantities.js';
import { one, type Posted } from '../forms/field-view.js';
import { withUnit } from '../forms/posted-texts.js';
import { deskOf } from '../forms/write-record.js';
import type { Visitor } from '../web/visitor.js';

/** One more temperature in the jar, with its time, judged as soon as it is written. */
export async function fillJar(who: Visitor, code: string, posted: Posted): Promise<Recorded | Refusal> {
  const desk = deskOf(who, posted);
  const pack = await findRecord<PackBody>(who.book.read, desk.sugarhouse, 'pack', code);
  if (!pack) return unknown('pack', code);
  const typed = withUnit(one(posted['temperature']), one(posted['temperature~unit']));
  const temperature = parseTemperature(typed);
  if (temperature.mismatch)
    return invalid('temperature', temperature.mismatch.expected, typed === '' ? 'nothing' : temperature.mismatch.got);
  const { manner } = await groundOf(who.book.read, desk);
  const minutesAgo = Math.min(24 * 60, Math.max(0, Number(one(posted['ago'])) || 0));
  // A time that the browser kept while the server was away goes before the server's own.
  const kept = Date.parse(one(posted['takenAt']));
  const taken = Number.isNaN(kept) ? desk.now.getTime() - minutesAgo * 60_000 : Math.min(kept, desk.now.getTime());
  const moment = momentIn(manner.zone, new Date(taken)).slice(0, 16);
  const clock = moment.slice(0, 10) === pack.body.packedAt.slice(0, 10) ? moment.slice(11) : moment;
  const thermometer = one(posted['thermometer']);
  const jars = one(posted['jars']);
  const fill = `${typed}@${clock}${thermometer ? `#${thermometer}` : ''}${jars ? ` ${/^\d/.test(jars) ? `jars ${jars}` : jars}` : ''}`;
  return record(who.book, desk, packsUnderway, { fillTemps: fill }, { add: true, of: code });
}
