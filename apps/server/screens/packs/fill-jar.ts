import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { invalid, unknown, type Refusal } from '#libs/actions/record/problem.js';
import { record, type Recorded } from '#libs/actions/record/record.js';
import { thermometersOf } from '#libs/actions/lots/thermometers.js';
import { momentIn } from '#libs/actions/record/times.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { parseTemperature } from '#libs/syrup/quantities/quantities.js';
import { one, type Posted } from '../../forms/field-view.js';
import { withUnit } from '../../forms/posted-texts.js';
import { writeContextOf } from '../../forms/write-record.js';
import { jarsSoFar } from '../lots/fill-pad.js';
import { lastWasLow } from '../lots/fill-views.js';
import type { Principal } from '../../http/principal.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** One more temperature in the jar, with its time, judged as soon as it is written. */
export async function fillJar(principal: Principal, code: string, posted: Posted): Promise<Recorded | Refusal> {
  const context = writeContextOf(principal, posted);
  const pack = await findRecord(sugarhouseReader(principal.book.read, context.sugarhouse), 'pack', code);
  if (!pack) return unknown('pack', code);
  const typed = withUnit(one(posted['temperature']), one(posted['temperature~unit']));
  const temperature = parseTemperature(typed);
  if (temperature.mismatch)
    return invalid('temperature', temperature.mismatch.expected, typed === '' ? 'nothing' : temperature.mismatch.got);
  const { parseOptions: options } = await loadSugarhouseContext(principal.book.read, context);
  const minutesAgo = Math.min(24 * 60, Math.max(0, Number(one(posted['ago'])) || 0));
  // A time that the browser kept while the server was away goes before the server's own.
  const saved = Date.parse(one(posted['takenAt']));
  const taken = Number.isNaN(saved)
    ? context.now.getTime() - minutesAgo * 60_000
    : Math.min(saved, context.now.getTime());
  const moment = momentIn(options.zone, new Date(taken)).slice(0, 16);
  const clock = moment.slice(0, 10) === pack.body.packedAt.slice(0, 10) ? moment.slice(11) : moment;
  const thermometer = one(posted['thermometer']);
  const thermometers = await thermometersOf(
    sugarhouseReader(principal.book.read, context.sugarhouse),
    Number(pack.body.packedAt.slice(0, 4)),
  );
  const jars = jarsOf(pack.body, posted, lastWasLow(pack.body, thermometers));
  if (typeof jars !== 'string') return jars;
  const fill = `${typed}@${clock}${thermometer ? `#${thermometer}` : ''}${jars ? ` ${/^\d/.test(jars) ? `jars ${jars}` : jars}` : ''}`;
  return record(principal.book, context, packsUnderway, { fillTemps: fill }, { add: true, of: code });
}

/** Which jars the reading stands for: those that were named, else those capped since the last count. */
function jarsOf(pack: PackBody, posted: Posted, afterLow: boolean): string | Refusal {
  const [named, upTo] = [one(posted['jars']), one(posted['upTo'])];
  if (upTo === '') return named;
  if (named !== '') return invalid('upTo', 'a count, or else which jars: one of the two', `"${upTo}" and "${named}"`);
  const [last, count] = [jarsSoFar(pack), Number(upTo)];
  if (!/^\d{1,5}$/.test(upTo) || count === 0)
    return invalid('upTo', 'a whole number, the jars capped so far, like 24', `"${upTo}"`);
  // After a cold reading the next one speaks for its own jar: those between them are held with the cold one.
  if (count > last && afterLow) return `jar ${count}`;
  if (count > last) return count === last + 1 ? `jar ${count}` : `jars ${last + 1}-${count}`;
  // A reading that waited on the device can't be asked about: it stands for the jar that was counted last.
  if (one(posted['takenAt']) !== '') return `jar ${count}`;
  return invalid('upTo', `more than the ${last} that are counted already`, `"${upTo}"`);
}
