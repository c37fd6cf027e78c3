import { utcOf } from '#libs/store/connection/instants.js';
import { findEntry } from '#libs/store/log/log.js';
import { findJar, findRecord, type Lot } from '#libs/store/queries/lots.js';
import type { Movement } from '#libs/store/queries/trace.js';
import { type JarSpan, jarsInSpans, intersectSpans, subtractSpans } from '#libs/syrup/jars/jar-spans.js';
import { heldJarsSent, sentWhileHeld } from '#libs/syrup/rules/entry-findings.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import type { JudgingContext } from './judging-context.js';

/** A pack with what holds it now: the jars, or `undefined` where all of it is held. */
export interface HeldPack {
  readonly lot: Lot;
  readonly made: number;
  readonly heldJars: readonly JarSpan[] | undefined;
}

/** What left since a lot was first held. */
export interface SentSinceHold {
  readonly findings: readonly Finding[];
  /** Jars that might leave then and are held now: the hold came too late for them. */
  readonly heldLater: number;
}

/**
 * Jars that left since their lot was first held. Where only some jars were held when a dispatch was last recorded, the
 * others might leave: then only held jars that it names are a deviation, and by count the jars beyond those that were
 * free. `movements` are those that have moved, oldest first.
 */
export async function sentSinceHold(
  judging: JudgingContext,
  pack: HeldPack,
  movements: readonly Movement[],
): Promise<SentSinceHold> {
  const { lot, made, heldJars } = pack;
  if (lot.state === 'open' || lot.state === 'released' || lot.heldSince === undefined)
    return { findings: [], heldLater: 0 };
  const since = utcOf(lot.heldSince);
  const status = lot.state === 'recalled' ? 'recalled' : 'held';
  const findings: Finding[] = [];
  let [sentByCount, heldLater] = [0, 0];
  for (const each of movements.filter((one) => isSentOut(one) && one.sentUtc >= since && !one.alreadyLeft)) {
    const held = await heldWhenRecorded(judging, pack, each.id);
    if (!held) {
      findings.push(sentWhileHeld({ lot: lot.code, jars: each.jars, to: each.to, status }));
      continue;
    }
    const named = each.byCodes ? await jarsNamed(judging, lot.code, each.id) : undefined;
    const namedHeld = named && intersectSpans(named, held);
    const beyondFree = (sent: number): number => Math.max(0, sent - (made - jarsInSpans(held)));
    const jars = namedHeld ? jarsInSpans(namedHeld) : beyondFree(sentByCount + each.jars) - beyondFree(sentByCount);
    if (!named) sentByCount += each.jars;
    if (jars > 0)
      findings.push(
        sentWhileHeld({ lot: lot.code, jars, to: each.to, status, held: { ...sentOn(each), jars: namedHeld } }),
      );
    heldLater +=
      named && heldJars
        ? jarsInSpans(intersectSpans(subtractSpans(named, held), heldJars))
        : heldJars
          ? 0
          : each.jars - jars;
  }
  return { findings, heldLater };
}

/** Held jars that were named in dispatches from before the hold, with the buyers. */
export async function heldJarsSentBefore(
  judging: JudgingContext,
  { lot, heldJars }: HeldPack,
  movements: readonly Movement[],
): Promise<string[]> {
  const since = lot.state === 'held' && lot.heldSince !== undefined ? utcOf(lot.heldSince) : undefined;
  const sent: string[] = [];
  for (const each of movements.filter((one) => isSentOut(one) && !one.alreadyLeft && one.byCodes)) {
    if (!heldJars || (since !== undefined && each.sentUtc >= since)) continue;
    const named = intersectSpans(await jarsNamed(judging, lot.code, each.id), heldJars);
    if (named.length > 0) sent.push(heldJarsSent({ ...sentOn(each), jars: named }));
  }
  return sent;
}

/** Sold, given or sampled; a laboratory may get any jar. */
export const isSentOut = ({ kind, laboratory }: Pick<Movement, 'kind' | 'laboratory'>): boolean =>
  ['sale', 'gift', 'sample'].includes(kind) && !laboratory;

const sentOn = ({ to, contact, sentAt }: Movement) => ({
  to: contact === '' ? to : `${to} (${contact})`,
  on: sentAt.slice(0, 10),
});

/**
 * The jars that were held when the dispatch was last recorded or corrected, by the verdict in that entry; those held now
 * where it is being recorded. Undefined where all of the pack was held, or nothing shows which jars.
 */
async function heldWhenRecorded(
  { sql, sugarhouse }: JudgingContext,
  { lot, heldJars }: HeldPack,
  dispatch: string,
): Promise<readonly JarSpan[] | undefined> {
  const record = await findRecord({ sql, sugarhouse }, 'dispatch', dispatch);
  const entry = record && (await findEntry(sql, record.lastSeq));
  const then = entry?.judged?.find((each) => each.lot === lot.code);
  if (!then) return lot.verdict?.awaitsRelease === undefined ? heldJars : undefined;
  return then.state === 'held' && then.verdict?.awaitsRelease === undefined ? then.verdict?.heldJars : undefined;
}

/** The numbers of the jars that a dispatch names. */
async function jarsNamed({ sql, sugarhouse }: JudgingContext, lot: string, dispatch: string): Promise<JarSpan[]> {
  const codes = (await findRecord({ sql, sugarhouse }, 'dispatch', dispatch))?.body.codes ?? [];
  const spans: JarSpan[] = [];
  for (const code of codes) {
    const jar = await findJar(sql, code);
    if (jar?.pack === lot) spans.push({ from: jar.n, to: jar.n });
  }
  return spans;
}
