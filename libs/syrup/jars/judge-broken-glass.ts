import type { JarsActedOn } from './acted-jars.js';
import { wholePack } from './fill-holds.js';
import { type JarSpan, mergedSpans, formatSpans } from './held-jars.js';
import { holdsAll, within, without } from '../quantities/jar-spans.js';
import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';

/** How many jars on each side of a broken one may contain splinters: common practice, no source. */
const beside = 2;

/**
 * Glass broke while filling: the jars around it are held until an action names them as inspected or destroyed. Pouring
 * them back doesn't count, since the splinters go back with the syrup.
 */
export function judgeBrokenGlass(
  broken: readonly JarSpan[],
  actions: readonly JarsActedOn[],
  jars: number | null,
  { isPouredOn = false }: { readonly isPouredOn?: boolean | undefined } = {},
): Finding[] {
  if (broken.length === 0) return [];
  const { isElsewhere, around, left } = splintersIn(broken, actions, jars);
  if (left.length === 0) return [];
  // Recorded as “all”: the jar is not known.
  const isUnknown = !isElsewhere && holdsAll(broken, wholePack(jars));
  const where = isElsewhere
    ? `the pack has ${jars} jars, so any of them`
    : isUnknown
      ? 'at which jar is not recorded, so any of them'
      : formatSpans(mergedSpans(around));
  const leftText = holdsAll(left, wholePack(jars)) ? 'every jar' : formatSpans(left);
  return [
    findingOf('broken-glass', {
      limit: 'no glass splinters in a jar that is sent out',
      found: `glass broke${isUnknown ? '' : ` at ${formatSpans(broken)}`}: ${where} may hold splinters`,
      ...(jars === null || holdsAll(left, wholePack(jars)) ? {} : { jars: left }),
      wayOut: isPouredOn
        ? 'All its syrup was poured into another pack, which is held for the splinters. Record it as poured back (a corrective action on all jars); a maker then releases this pack.'
        : `${isUnknown ? 'If you know which jar it was, correct the record. ' : ''}Inspect ${leftText} against the light and record the action (inspected), or destroy them. Don’t pour them back: splinters stay in the syrup.`,
    }),
  ];
}

/** The pack that syrup was poured from, with what was done about its broken glass before the pouring. */
export interface GlassUpstream {
  readonly pack: string;
  readonly broken: readonly JarSpan[];
  readonly jars: number | null;
  /** Actions dated no later than the pouring. */
  readonly actionsBefore: readonly JarsActedOn[];
  /** When its syrup was poured: `2026-03-20`. */
  readonly pouredOn: string;
}

/**
 * Syrup poured from a pack in which glass broke holds its splinters, unless the jars around were inspected or destroyed
 * before the pouring. What is recorded of those jars later can't take the splinters out.
 */
export function judgeGlassUpstream({ pack, broken, jars, actionsBefore, pouredOn }: GlassUpstream): Finding[] {
  const { left } = splintersIn(broken, actionsBefore, jars);
  if (left.length === 0) return [];
  const which = holdsAll(left, wholePack(jars)) ? 'its jars' : formatSpans(left);
  return [
    findingOf('glass-poured-in', {
      limit: 'jars with splinters inspected or destroyed before their pack is poured into another',
      found: `Broken glass in ${pack}, poured in on ${pouredOn}: ${which} of ${pack} were not inspected or destroyed before`,
      wayOut:
        'Destroy it: heating removes no splinters, and inspecting jars that were already emptied shows nothing. Or filter all of it, pack it again, inspect every jar against the light, and a maker releases it with how the splinters were removed.',
      identity: { evidence: { pack, broken, poured: left } },
    }),
  ];
}

/** The jars around the broken ones, and those of them that nobody inspected or destroyed. */
function splintersIn(
  broken: readonly JarSpan[],
  actions: readonly JarsActedOn[],
  jars: number | null,
): { readonly isElsewhere: boolean; readonly around: readonly JarSpan[]; readonly left: readonly JarSpan[] } {
  // A jar number beyond the pack is a typing mistake: which jar broke isn't known.
  const isElsewhere = jars !== null && broken.some(({ to }) => to > jars);
  const around = isElsewhere
    ? wholePack(jars)
    : broken.map(({ from, to }) => ({ from: Math.max(1, from - beside), to: to + beside }));
  return { isElsewhere, around, left: without(within(mergedSpans(around), wholePack(jars)), clearedOf(actions)) };
}

/** Jars inspected or destroyed; an inspection after they were poured back saw them empty. */
function clearedOf(actions: readonly JarsActedOn[]): readonly JarSpan[] {
  let cleared: JarSpan[] = [];
  let poured: JarSpan[] = [];
  for (const { how, jars, clearsNothing } of actions) {
    if (clearsNothing) continue;
    if (how === 'poured-back') poured = mergedSpans([...poured, ...jars]);
    else if (how === 'destroyed') cleared = [...cleared, ...jars];
    else if (how === 'inspected') cleared = [...cleared, ...without(jars, poured)];
  }
  return cleared;
}
