import { findJar, type Lot } from '#libs/store/queries/lots.js';
import { lotsUpstream } from '#libs/store/queries/trace.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { parseJarSpans } from '#libs/syrup/jars/jar-spans.js';
import { splitList } from '../record/fields.js';
import type { PrepareContext } from '../record/kind.js';
import { invalid, type Refusal } from '../record/problem.js';
import { lookUpLot } from '../record/references.js';
import { jarsByCodes, notHere } from '../jars/jar-selection.js';

interface ComplaintJar {
  /** The lot that was named, where one was. */
  readonly lot: Lot | undefined;
  /** Jar codes, or numbers of the lot's jars, as typed. */
  readonly jar: string;
  /** The jar as stored before, in a correction. */
  readonly jarBefore: string | undefined;
}

/**
 * The lot that a complaint is about: the one that is named, else the lot of its jar's code. Refuses a jar of another
 * lot, and a text that names no jar. A correction may keep such a text of an older book; a jar code of this book always
 * leads to its lot.
 */
export async function lotOfComplaint(
  at: PrepareContext,
  { lot, jar, jarBefore }: ComplaintJar,
): Promise<{ readonly lot: Lot | undefined; readonly jar: string } | Refusal> {
  const typed = jar.trim();
  if (typed === '') return { lot, jar };
  const unchanged = jar === jarBefore;
  const { value: selection } = jarsByCodes(splitList(typed.replace(/^(?:jars?|pots?)\s+/iu, '')));
  const codes = selection?.codes ?? [];
  if (codes.length === 0) {
    const spans = parseJarSpans(typed).value?.spans;
    const isOfLot = lot?.kind === 'pack' && spans !== undefined && spans.every(({ to }) => to <= (lot.jars ?? 0));
    return isOfLot || unchanged ? { lot, jar } : invalid('jar', expectedOf(lot), `"${typed}"`);
  }
  const printed = codes.map(printedJarCode).join('; ');
  let found = lot;
  for (const code of codes) {
    const known = await findJar(at.reader.sql, code);
    if (known?.sugarhouse !== at.writeContext.sugarhouse) {
      if (unchanged) continue;
      return invalid('jar', expectedOf(lot), `${printedJarCode(code)}, which is ${notHere}`);
    }
    found ??= await lookUpLot(at.reader, known.pack);
    if (found && !(await isOrCameFrom(at, known.pack, found.code)))
      return invalid('jar', `a jar of ${found.code}`, `${printedJarCode(code)}, which is of ${known.pack}`);
  }
  return { lot: found, jar: printed };
}

/** A complaint about a boil or its sap may name a jar of a pack that came from it. */
const isOrCameFrom = async ({ reader }: PrepareContext, pack: string, lot: string): Promise<boolean> =>
  pack === lot || (await lotsUpstream(reader, pack)).some(({ code }) => code === lot);

const expectedOf = (lot: Lot | undefined): string =>
  lot?.kind === 'pack'
    ? `a jar code, or a number from 1 to ${lot.jars ?? 0}, the jars of ${lot.code}; if you don’t know which jar, leave it blank`
    : 'a jar code like K7QM-3XWT; a jar by its number needs the lot of the pack';
