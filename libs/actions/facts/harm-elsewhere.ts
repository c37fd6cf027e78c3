import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { answersYes } from '#libs/store/queries/answers-yes.js';
import { recordsAbout, type Lot } from '#libs/store/queries/lots.js';
import { flowsOutOf, syrupSources } from '#libs/store/queries/trace.js';
import { harmConfirmed } from '#libs/syrup/contents/judge-harm.js';
import type { HarmElsewhereEvidence } from '#libs/syrup/rules/finding-evidence.js';
import type { RuleEvidence } from '#libs/syrup/rules/open-facts.js';
import { recordsForJudging } from '../judging/records-for-judging.js';
import { complaintObservation, questionAnswers } from './spoilage-observations.js';
import { syrupOrigins } from './syrup-origins.js';

/**
 * Complaints about other packs of the same syrup that somebody answered as harm. Packs count whose syrup came from one
 * boil or bought lot, also through packs poured or boiled again; what was left in the pans from boil to boil doesn't, or a season boiled
 * without emptying them would be held as a whole. Complaints about lots upstream hold the pack by themselves.
 */
export async function loadHarmElsewhere(
  reader: SugarhouseReader,
  lot: Lot,
  upstream: readonly Lot[],
): Promise<HarmElsewhereEvidence[]> {
  const above = new Set([lot, ...upstream].map(({ code }) => code));
  const others = new Set((await answersYes(reader)).flatMap((answer) => answer.lot ?? []));
  const found: HarmElsewhereEvidence[] = [];
  for (const pack of [...others].filter((code) => !above.has(code)).sort()) {
    if (!(await isOfSameSyrup(reader, lot.code, pack))) continue;
    const about = await recordsForJudging(reader, pack);
    const harm = harmConfirmed(about('complaint').map(complaintObservation), questionAnswers(about('answer')));
    found.push(...harm.map((each) => ({ ...each, pack })));
  }
  return found;
}

async function isOfSameSyrup(reader: SugarhouseReader, one: string, other: string): Promise<boolean> {
  const origins = new Set(await syrupOrigins(reader, one));
  return (await syrupOrigins(reader, other)).some((code) => origins.has(code));
}

/** What is recorded of complaints about packs filled from the boils or bought syrup that this one was filled from. */
export async function loadHarmElsewhereEvidence(reader: SugarhouseReader, lot: string): Promise<RuleEvidence> {
  const packs = new Set<string>();
  for (const { code } of await syrupSources(reader, lot))
    for (const { into } of await flowsOutOf(reader, code)) if (into !== lot) packs.add(into);
  const because: string[] = [];
  for (const pack of [...packs].sort())
    for (const { id } of await recordsAbout(reader, pack, 'complaint'))
      because.push(`${id} about ${pack}: not answered as harm`);
  return because.length > 0 ? { because } : { because, notRecorded: ['a complaint about another pack of its syrup'] };
}
