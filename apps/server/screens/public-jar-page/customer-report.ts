import { submitJarReport } from '#libs/actions/jars/jar-reports.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { textOf } from '../set-up/text-of.js';
import type { Principal } from '../../http/principal.js';
import type { FoundJar } from './found-jar.js';

export interface ReportFault {
  readonly said: string;
  readonly reach: string;
  readonly fault: 'said' | 'reach' | 'again' | 'full';
}

/**
 * Stores a customer's report for a maker, who records it as a complaint about the jar's lot. It holds nothing by
 * itself. The response reveals nothing else of the book.
 */
export async function storeReport(
  { writeContext: { now, key } }: Principal,
  { book, jar }: FoundJar,
  sent: Record<string, unknown>,
): Promise<'taken' | ReportFault> {
  const said = textOf(sent['said']).trim();
  const reach = textOf(sent['reach']).trim();
  const refuse = (fault: ReportFault['fault']): ReportFault => ({ said, reach, fault });
  if (said === '' || said.length > maxLetters) return refuse('said');
  if (reach.length > maxContactLetters) return refuse('reach');
  // The token tells a second report from the same form sent twice.
  if (key === undefined) return refuse('again');
  const report = { token: key, lot: jar.pack, jar: printedJarCode(jar.code), said, reach };
  const done = await submitJarReport(book, { sugarhouse: jar.sugarhouse, now }, report);
  return done === 'taken' ? 'taken' : refuse(done === 'full' ? 'full' : 'again');
}

const maxLetters = 1000;
const maxContactLetters = 200;
