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
): Finding[] {
  if (broken.length === 0) return [];
  const cleared = actions
    .filter(({ how, clearsNothing }) => !clearsNothing && (how === 'inspected' || how === 'destroyed'))
    .flatMap((each) => each.jars);
  // A jar number beyond the pack is a typing mistake: which jar broke isn't known.
  const isElsewhere = jars !== null && broken.some(({ to }) => to > jars);
  const around = isElsewhere
    ? wholePack(jars)
    : broken.map(({ from, to }) => ({ from: Math.max(1, from - beside), to: to + beside }));
  const left = without(within(mergedSpans(around), wholePack(jars)), cleared);
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
      wayOut: `${isUnknown ? 'If you know which jar it was, correct the record. ' : ''}Inspect ${leftText} against the light and record the action (inspected), or destroy them. Don’t pour them back: splinters stay in the syrup.`,
    }),
  ];
}
