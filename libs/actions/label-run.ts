import type { Lot } from '#libs/records/lots.js';
import { recordsAbout } from '#libs/records/lots.js';
import type { Sql } from '#libs/records/sql.js';
import { type JarSpan, spansSaid, touches } from '#libs/syrup/held-jars.js';
import { heldByHand } from '#libs/records/deeds.js';
import { cautions } from './cautions.js';
import type { Ground } from './desk.js';
import { type Refusal, refused, unknown } from './problem.js';
import { lookUpLot } from './references.js';

/** A pack whose labels may be printed now, or why not. What is held or called back gets no label to sell it by. */
export async function packToLabel(sql: Sql, sugarhouse: string, typed: string, jars?: JarSpan): Promise<Lot | Refusal> {
  const lot = await lookUpLot(sql, sugarhouse, typed);
  if (!lot) return unknown('lot', typed);
  if (lot.kind !== 'pack')
    return refused('not-a-pack', `${lot.code} is a ${lot.kind}: labels are printed for a pack, such as ${lot.code}-1.`);
  if (lot.jars === undefined)
    return refused('underway', `${lot.code} is still being filled: say how many jars there are first.`);
  // Also once an authority let it go: a label that says maple syrup would say what isn't in the jar.
  const other = lot.verdict?.findings.find((finding) => finding.rule === 'outside-these-rules');
  if (other) return refused(other.rule, `${lot.code}: no syrup label. Its ${other.found}`);
  if (lot.state === 'open' || lot.state === 'released') return lot;
  const some = lot.state === 'held' ? lot.verdict?.heldJars : undefined;
  if (some && jars && !touches(some, jars) && !(await heldByHand(sql, sugarhouse, lot.code))) return lot;
  const stops = (lot.verdict?.findings ?? []).filter((finding) => finding.stop);
  const because = stops.map((stop) => `${stop.rule}: found ${stop.found}; asked ${stop.limit}.`).join(' ');
  const way = lot.state === 'recalled' ? '' : 'Nothing stops it any more: let it go with initials first.';
  return refused(
    stops[0]?.rule ?? lot.state,
    `${lot.code} is ${lot.state}: no labels${some ? ` for ${spansSaid(some)}` : ''}. ${because || way}`.trim(),
  );
}

/** Jars whose label was printed before: a reprint is the same jar, and its run says so. */
export async function printedBefore(
  sql: Sql,
  sugarhouse: string,
  pack: string,
  from: number,
  to: number,
): Promise<boolean> {
  const runs = await recordsAbout<{ from?: number; to?: number; what?: string }>(sql, sugarhouse, pack, 'labels');
  return runs.some(({ body }) => body.what !== 'spoiled' && (body.from ?? 0) <= to && (body.to ?? 0) >= from);
}

/** What is said before labels are printed: the cautions of the trade, and whom to ask. */
export function labelCautions(ground: Ground): string[] {
  const { place } = ground;
  return [
    ...new Set([...cautions('label'), ...cautions('sell')].map((each) => each.text)),
    ...place.authority.map(
      (each) => `Ask ${each.name} about ${each.ask}. Local rules and licensed practice come first.`,
    ),
    ...(place.fellBack ? [place.fellBack] : []),
  ];
}
