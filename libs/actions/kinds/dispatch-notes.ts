import type { DispatchBody, DispatchKind } from '#libs/records/kinds/dispatch.js';
import type { Lot } from '#libs/store/queries/lots.js';
import { movementsOfJar } from '#libs/store/queries/trace.js';
import { formatSpans } from '#libs/syrup/jars/jar-spans.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { heldAmong } from '../jars/dispatch-clearance.js';
import { isForEating } from '../jars/jars-leaving.js';
import type { PrepareContext } from '../record/kind.js';

/** Where jars are destroyed by count only, which ones is unknown: the held jars stay held until they are named. */
export const destroyedByCountNotes = ({ code, state, verdict }: Lot): string[] =>
  state === 'held' && verdict?.heldJars
    ? [
        `Which jars were destroyed isn’t known by count: ${formatSpans(verdict.heldJars)} of ${code} stay held, unless every jar that is left was destroyed. Correct this and enter which: jars 13-24, or their codes. Then those are gone.`,
      ]
    : [];

interface SentJars extends Pick<DispatchBody, 'kind' | 'codes' | 'sentAt' | 'to' | 'contact'> {
  readonly laboratory?: 'yes' | 'no' | undefined;
  readonly alreadyLeft?: 'yes' | 'no' | undefined;
}

/** Notes shown on saving a correction that names held jars: which jars, and whom to call. The correction is saved. */
export async function heldJarsNotes(
  { reader, houseContext }: PrepareContext,
  lot: Lot,
  { kind: how, laboratory, codes, sentAt, to, contact, alreadyLeft }: SentJars,
): Promise<string[]> {
  if (codes.length === 0 || alreadyLeft === 'yes' || !isForEating({ kind: how, laboratory: laboratory === 'yes' }))
    return [];
  const held = await heldAmong({ ...reader, houseContext, at: sentAt }, lot.code, codes);
  return held.length === 0
    ? []
    : [
        `Saved, and filed as a deviation: ${formatSpans(held)} of ${lot.code}, which went to ${to}${contact ? ` (${contact})` : ''}, must not be eaten while held. Call them.`,
      ];
}

/** A note for a jar that is already recorded as sent out; the entry is saved all the same. */
export async function alreadySentNotes(
  { reader }: PrepareContext,
  codes: readonly string[],
  how: DispatchKind,
  id?: string,
): Promise<string[]> {
  const notes: string[] = [];
  for (const code of codes) {
    const last = (await movementsOfJar(reader, code)).filter((each) => each.id !== id).at(-1);
    if (last && last.kind !== 'returned' && how !== 'returned')
      notes.push(`Jar ${printedJarCode(code)} already went to ${last.to} on ${last.sentAt.slice(0, 10)} (${last.id}).`);
  }
  return notes;
}
