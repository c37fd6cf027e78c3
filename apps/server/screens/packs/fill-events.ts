import { addFillReading } from '#libs/actions/lots/add-fill-reading.js';
import { packsUnderway } from '#libs/actions/kinds/pack.js';
import { parsedField } from '#libs/actions/record/parsed-field.js';
import { invalid, unknown, type Refusal } from '#libs/actions/record/problem.js';
import { record, type Recorded } from '#libs/actions/record/record.js';
import { findRecord } from '#libs/store/queries/lots.js';
import type { NamedJars } from '#libs/syrup/jars/jar-spans.js';
import { isJarNumber } from '../../forms/jar-numbers.js';
import { withPouredBack } from '#libs/syrup/quantities/fill-readings.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { writeContextOf } from '../../forms/write-record.js';
import { validReadings } from '../lots/fill-views.js';
import type { Principal } from '../../http/principal.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** Records that the jars of a cold reading were poured back and filled again: the reading stays, but holds nothing. */
export async function pourBack(principal: Principal, code: string, posted: Posted): Promise<Recorded | Refusal> {
  const context = writeContextOf(principal, posted);
  const pack = await findRecord(sugarhouseReader(principal.book.read, context.sugarhouse), 'pack', code);
  if (!pack) return unknown('pack', code);
  const reading = firstText(posted['reading']);
  const found = validReadings(pack.body).find(({ typed }) => typed === reading);
  if (!found) return invalid('reading', 'a reading of this pack that was not poured back yet', `"${reading}"`);
  return addFillReading(principal.book, context, { pack: code, reading: withPouredBack(found) });
}

/**
 * Records that glass broke at `jar`. Where that is blank the jar is not known, and every jar of the pack is held.
 * The number is never taken from the last reading, since any number of jars may have been filled after it.
 */
export async function breakGlass(principal: Principal, code: string, posted: Posted): Promise<Recorded | Refusal> {
  const context = writeContextOf(principal, posted);
  const pack = await findRecord(sugarhouseReader(principal.book.read, context.sugarhouse), 'pack', code);
  if (!pack) return unknown('pack', code);
  const jar = firstText(posted['jar']).trim();
  if (jar !== '' && !isJarNumber(jar)) return invalid('jar', 'the number of a jar, like 14', `"${jar}"`);
  const jars: NamedJars =
    jar === ''
      ? { typed: 'all', spans: [], all: true }
      : { typed: jar, spans: [{ from: Number(jar), to: Number(jar) }], all: false };
  const brokenGlass = parsedField<NamedJars>(jars.typed, jars);
  return record(principal.book, context, packsUnderway, { brokenGlass }, { add: true, of: code });
}

/** The check of the thermometer was put off: the quick form doesn't ask again in this pack, Today does afterwards. */
export async function postponeCheck(principal: Principal, code: string, posted: Posted): Promise<Recorded | Refusal> {
  const context = writeContextOf(principal, posted);
  const pack = await findRecord(sugarhouseReader(principal.book.read, context.sugarhouse), 'pack', code);
  if (!pack) return unknown('pack', code);
  return record(principal.book, context, packsUnderway, { thermometerCheck: 'later' }, { add: true, of: code });
}
