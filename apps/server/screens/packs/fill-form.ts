import type { PackBody } from '#libs/records/kinds/pack.js';
import type { Fault, Refusal } from '#libs/actions/record/problem.js';
import { parseFillFields } from '#libs/syrup/quantities/fill-fields.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import { firstText, type Posted, typedOrPicked } from '../../forms/field-view.js';
import { jarNumbersFault, namedJarNumbers } from '../../forms/jar-numbers.js';
import { withUnit } from '../../forms/with-unit.js';
import { highestJarRead } from '../lots/fill-form-view.js';

/** What parsing the form needs: when the jar was read, and its pack. */
interface FillContext {
  /** Local, `10:10`; with its date if that differs from the pack's. */
  readonly clock: string;
  readonly pack: PackBody;
  /** The newest valid reading was too cold: the next one is evidence for its own jar only. */
  readonly afterColdReading: boolean;
}

/** Parses the form's boxes to one reading; a fault names its box. */
export function parseFillForm(posted: Posted, { clock, pack, afterColdReading }: FillContext): FillReading | Refusal {
  const typed = withUnit(firstText(posted['temperature']), firstText(posted['temperature~unit']));
  const jars = jarsCovered(pack, posted, afterColdReading);
  const reading = parseFillFields({
    temperature: typed,
    clock,
    thermometer: typedOrPicked(posted, 'thermometer'),
    jars: typeof jars === 'string' ? jars : '',
  });
  const faults: Fault[] = [
    ...(reading.faults ?? []).map(({ field, expected, got }) => ({ field, expected, got })),
    ...(typeof jars === 'string' ? [] : [jars]),
  ];
  return reading.faults === undefined && faults.length === 0 ? reading.value : { problem: { kind: 'invalid', faults } };
}

/** The named jars: by number, as a tray, or in the notation of an older form that was queued on a device. */
function parseNamedJars(posted: Posted): string | Fault {
  const [from, to, tray, typedJars] = [
    firstText(posted['jarsFrom']),
    firstText(posted['jarsTo']),
    firstText(posted['tray']),
    firstText(posted['jars']),
  ];
  if (from + to !== '' && jarNumbersFault({ from, to }))
    return {
      field: 'jars',
      expected: 'the first and the last jar by number, like 9 to 16',
      got: `"${from} to ${to}"`,
    };
  const numbers = from && namedJarNumbers({ from, to });
  const trayText = tray === '' || /^(?:tray|case)\b/i.test(tray) ? tray : `tray ${tray}`;
  const named = [numbers, trayText, typedJars].filter(Boolean);
  return named.length > 1
    ? { field: 'jars', expected: 'jars by number or a tray, one of the two', got: `"${named.join('" and "')}"` }
    : (named[0] ?? '');
}

/** Which jars the reading covers: the named ones, else those capped since the last count. */
function jarsCovered(pack: PackBody, posted: Posted, afterColdReading: boolean): string | Fault {
  const [named, upTo] = [parseNamedJars(posted), firstText(posted['upTo'])];
  if (typeof named !== 'string' || upTo === '') return named;
  const fault = (expected: string, got = `"${upTo}"`): Fault => ({ field: 'upTo', expected, got });
  if (named !== '') return fault('a count, or else which jars: one of the two', `"${upTo}" and "${named}"`);
  const [last, count] = [highestJarRead(pack), Number(upTo)];
  if (!/^\d{1,5}$/.test(upTo) || count === 0) return fault('a whole number, the jars capped so far, like 24');
  // After a cold reading, the next one is evidence for its own jar only: the jars between them are held with the cold
  // one.
  if (count > last && afterColdReading) return `jar ${count}`;
  if (count > last) return count === last + 1 ? `jar ${count}` : `jars ${last + 1}-${count}`;
  // A reading queued on the device can't be asked about: it covers the jar that was counted last.
  if (firstText(posted['takenAt']) !== '') return `jar ${count}`;
  return fault(`more than the ${last} that are counted already`);
}
