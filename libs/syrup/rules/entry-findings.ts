import { formatSpans, type JarSpan, mergeSpans } from '../jars/jar-spans.js';
import { findingOf } from './rules.js';
import type { Finding } from './verdict.js';

export { drawnMoreThanThere } from './judge-boils.js';

/** Findings about events that had already happened when they were recorded: a fact is recorded, never refused. */

/** An advisory that jars left while their lot was held or recalled. */
export function sentWhileHeld(of: {
  lot: string;
  jars: number;
  to: string;
  status: 'held' | 'recalled';
  /** Why it was held, where known. */
  why?: string | undefined;
  /** Where only some jars were held: to whom and when they went, and their numbers if the dispatch names them. */
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
  `${formatSpans(mergeSpans(jars))}, held, went to ${to} on ${on}`;

/** An advisory that jars of a held or recalled lot had left before somebody reported it. */
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

/** An advisory that jars had left before their lot was held. */
export function leftBeforeHold(of: {
  lot: string;
  jars: number;
  /** Sentences on which held jars went to whom, where dispatches name them. */
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

/** An advisory that more jars of a lot were sent out, in total, than were made. */
export function sentMoreThanMade(of: { lot: string; made: number; sentInAll: number }): Finding[] {
  if (of.sentInAll <= of.made) return [];
  return [
    findingOf('sent-more-than-made', {
      limit: `no more than the ${formatJars(of.made)} made of ${of.lot}`,
      found: `${formatJars(of.sentInAll)} of ${of.lot} sent out, destroyed or used otherwise, ${of.sentInAll - of.made} more than were made`,
    }),
  ];
}

/** An advisory that more jars of a lot were returned than had been sent out by then. */
export function returnedMoreThanSent(of: { lot: string; returned: number; ofSent: number }): Finding[] {
  if (of.returned <= of.ofSent) return [];
  return [
    findingOf('returned-more-than-sent', {
      limit: `no more jars of ${of.lot} returned than had been sent out by then`,
      found: `${formatJars(of.returned)} of ${of.lot} returned, ${of.returned - of.ofSent} more than had been sent out: they are not counted as stock until the record of what was sent is complete`,
    }),
  ];
}

/** A hold for a lot whose syrup came from a lot that was held or recalled. */
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
