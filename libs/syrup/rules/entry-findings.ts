import { formatSpans, type JarSpan, mergedSpans } from '../jars/held-jars.js';
import { findingOf } from './rules.js';
import type { Finding } from './verdict.js';

export { drawnMoreThanThere } from './judge-boils.js';

/**
 * Findings about events that had already happened when they were recorded. Plans are refused, facts never: the fact is
 * recorded together with one of these.
 */

/** Jars left while their lot was held or recalled. */
export function sentWhileHeld(of: {
  lot: string;
  jars: number;
  to: string;
  status: 'held' | 'recalled';
  /** Why it was held, where known. */
  why?: string | undefined;
  /** Where only some jars were held: to whom and when those went, and which they are if the dispatch names them. */
  held?: HeldJarsSent | undefined;
}): Finding {
  if (of.held)
    return findingOf('sent-while-held', {
      limit: `no held jar of ${of.lot} leaves`,
      found: `${of.held.jars ? heldJarsSent({ ...of.held, jars: of.held.jars }) : `at least ${formatJars(of.jars)} that were held went to ${of.held.to} on ${of.held.on}`}: call them`,
    });
  return findingOf('sent-while-held', {
    limit: `no jar of ${of.lot} leaves while it is ${of.status}`,
    found: `${formatJars(of.jars)} went to ${of.to} while ${of.lot} was ${of.status}${of.why ? `: ${of.why}` : ''}`,
  });
}

interface HeldJarsSent {
  /** The buyer, with how to reach them. */
  readonly to: string;
  readonly on: string;
  readonly jars?: readonly JarSpan[] | undefined;
}

/** `jars 9–10, which are held, went to Millrace Green (stall 4) on 2026-04-20` */
export const heldJarsSent = ({ to, on, jars }: HeldJarsSent & { readonly jars: readonly JarSpan[] }): string =>
  `${formatSpans(mergedSpans(jars))}, held, went to ${to} on ${on}`;

/** Jars that had already left when somebody recorded it, of a lot that might not be sent out. */
export function alreadyLeft(of: {
  lot: string;
  /** Id of the dispatch that reports them. */
  id: string;
  jars: number;
  to: string;
  on: string;
  by: string;
  acknowledgedBy?: string | undefined;
}): Finding {
  return findingOf('already-left', {
    limit: 'a maker’s initials under every report of jars that had already left',
    found: `${formatJars(of.jars)} of ${of.lot} went to ${of.to} on ${of.on}, reported by ${of.by} (${of.id}); ${
      of.acknowledgedBy === undefined ? 'no maker’s initials yet' : `initialled by ${of.acknowledgedBy}`
    }`,
  });
}

/** Jars had left before anything held their lot: the hold comes too late for them. */
export function leftBeforeHold(of: {
  lot: string;
  jars: number;
  /** Which held jars went to whom, in sentences, where dispatches name them. */
  held?: readonly string[];
}): Finding[] {
  if (of.jars <= 0) return [];
  return [
    findingOf('left-before-hold', {
      limit: `no jar of ${of.lot} out when it was held`,
      found: `${formatJars(of.jars)} of it had already left${of.held && of.held.length > 0 ? ` (${of.held.join('; ')}: call them)` : ''}: ask your authority whether to recall them`,
    }),
  ];
}

/** More jars of a lot left, in total, than were made. */
export function sentMoreThanMade(of: { lot: string; made: number; sentInAll: number }): Finding[] {
  if (of.sentInAll <= of.made) return [];
  return [
    findingOf('sent-more-than-made', {
      limit: `no more than the ${formatJars(of.made)} made of ${of.lot}`,
      found: `${formatJars(of.sentInAll)} of ${of.lot} sent out, ${of.sentInAll - of.made} more than were made`,
    }),
  ];
}

/** More jars of a lot were returned than had been sent out by then. */
export function returnedMoreThanSent(of: { lot: string; returned: number; ofSent: number }): Finding[] {
  if (of.returned <= of.ofSent) return [];
  return [
    findingOf('returned-more-than-sent', {
      limit: `no more jars of ${of.lot} returned than had been sent out by then`,
      found: `${formatJars(of.returned)} of ${of.lot} returned, ${of.returned - of.ofSent} more than had been sent out: they are not counted as stock until the record of what was sent is complete`,
    }),
  ];
}

/** Syrup was poured from a lot that was held or recalled: what was made from it is held too. */
export function heldUpstream(of: { upstream: string; status: 'held' | 'recalled'; why?: string | undefined }): Finding {
  return findingOf('held-upstream', {
    limit: 'no source lot held or recalled',
    found: `${of.upstream}, which it was drawn from, was ${of.status}${of.why ? `: ${of.why}` : ''}`,
    wayOut:
      of.status === 'recalled'
        ? `${of.upstream} is recalled and can’t be released: recall this one too, or destroy all its jars, record it and release it.`
        : undefined,
  });
}

const formatJars = (jars: number): string => `${jars} ${jars === 1 ? 'jar' : 'jars'}`;
