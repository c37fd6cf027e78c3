import type { JarAction } from './judge-action.js';
import { wholePack } from './fill-holds.js';
import { type JarSpan, mergeSpans, formatSpans, coversSpans, intersectSpans, subtractSpans } from './jar-spans.js';
import { findingOf } from '../rules/rules.js';
import type { Finding } from '../rules/verdict.js';

/** How many jars on each side of a broken one may contain splinters: common practice, no source. */
const jarsBeside = 2;

/**
 * A hold for jars near one that broke while filling, until an action names them as inspected or destroyed. Pouring them
 * back doesn't count, since the splinters go back with the syrup. `jars` is how many the pack has, null while filling.
 */
export function judgeBrokenGlass(
  broken: readonly JarSpan[],
  actions: readonly JarAction[],
  jars: number | null,
  { isPouredIntoOthers = false }: { readonly isPouredIntoOthers?: boolean | undefined } = {},
): Finding[] {
  if (broken.length === 0) return [];
  const { isElsewhere, around, uncleared } = findSplinters(broken, actions, jars);
  if (uncleared.length === 0) return [];
  // Recorded as “all”: nobody recorded which jar broke.
  const isUnknown = !isElsewhere && coversSpans(broken, wholePack(jars));
  const where = isElsewhere
    ? `the pack has ${jars} jars, so any of them`
    : isUnknown
      ? 'at which jar is not recorded, so any of them'
      : formatSpans(mergeSpans(around));
  const leftText = coversSpans(uncleared, wholePack(jars)) ? 'every jar' : formatSpans(uncleared);
  return [
    findingOf('broken-glass', {
      limit: 'no glass splinters in a jar that is sent out',
      found: `glass broke${isUnknown ? '' : ` at ${formatSpans(broken)}`}: ${where} may hold splinters`,
      ...(jars === null || coversSpans(uncleared, wholePack(jars)) ? {} : { jars: uncleared }),
      wayOut: isPouredIntoOthers
        ? 'All its syrup was poured into another pack, which is held for the splinters. Record it as poured back (a corrective action on all jars); a maker then releases this pack.'
        : `${isUnknown ? 'If you know which jar it was, correct the record. ' : ''}Inspect ${leftText} against the light and record the action (inspected), or destroy them. Don’t pour them back: splinters stay in the syrup.`,
    }),
  ];
}

/** A pack in which glass broke and whose syrup was poured into the judged pack. */
export interface GlassUpstream {
  readonly pack: string;
  readonly broken: readonly JarSpan[];
  readonly jars: number | null;
  /** Actions dated no later than the pouring. */
  readonly actionsBefore: readonly JarAction[];
  /** When its syrup was poured: `2026-03-20`. */
  readonly pouredOn: string;
}

/**
 * Syrup poured from a pack in which glass broke holds its splinters, unless the jars around were inspected or destroyed
 * before the pouring. Later actions on those jars don’t count: the syrup had left them.
 */
export function judgeGlassUpstream({ pack, broken, jars, actionsBefore, pouredOn }: GlassUpstream): Finding[] {
  const { uncleared } = findSplinters(broken, actionsBefore, jars);
  if (uncleared.length === 0) return [];
  const which = coversSpans(uncleared, wholePack(jars)) ? 'its jars' : formatSpans(uncleared);
  return [
    findingOf('glass-poured-in', {
      limit: 'jars with splinters inspected or destroyed before their pack is poured into another',
      found: `Broken glass in ${pack}, poured in on ${pouredOn}: ${which} of ${pack} were not inspected or destroyed before`,
      wayOut:
        'Destroy it: heating removes no splinters, and inspecting jars that were already emptied shows nothing. Or filter all of it, pack it again, inspect every jar against the light, and a maker releases it with how the splinters were removed.',
      identity: { evidence: { pack, broken, poured: uncleared } },
    }),
  ];
}

/** The jars around the broken ones, and those of them that nobody inspected or destroyed (`uncleared`). */
function findSplinters(
  broken: readonly JarSpan[],
  actions: readonly JarAction[],
  jars: number | null,
): { readonly isElsewhere: boolean; readonly around: readonly JarSpan[]; readonly uncleared: readonly JarSpan[] } {
  // A jar number beyond the pack is a typing mistake: which jar broke isn't known.
  const isElsewhere = jars !== null && broken.some(({ to }) => to > jars);
  const around = isElsewhere
    ? wholePack(jars)
    : broken.map(({ from, to }) => ({ from: Math.max(1, from - jarsBeside), to: to + jarsBeside }));
  return {
    isElsewhere,
    around,
    uncleared: subtractSpans(intersectSpans(mergeSpans(around), wholePack(jars)), clearedJars(actions)),
  };
}

/** Jars inspected or destroyed; an inspection after they were poured back doesn’t count, since they were empty. */
function clearedJars(actions: readonly JarAction[]): readonly JarSpan[] {
  let cleared: JarSpan[] = [];
  let poured: JarSpan[] = [];
  for (const { how, jars, clearsNothing } of actions) {
    if (clearsNothing) continue;
    if (how === 'poured-back') poured = mergeSpans([...poured, ...jars]);
    else if (how === 'destroyed') cleared = [...cleared, ...jars];
    else if (how === 'inspected') cleared = [...cleared, ...subtractSpans(jars, poured)];
  }
  return cleared;
}
