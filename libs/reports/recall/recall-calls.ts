import { howText } from './how-sent.js';
import type { CallMade, Recall } from './recall.js';
import type { Dispatch } from '../season/flow.js';
import { day, many, minute } from '#libs/format/format.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';

/** One recipient of jars, all that was sent there, and the calls made to it. */
export interface Call {
  readonly to: string;
  readonly telephone: string | null;
  readonly contact: string | null;
  /** What it still has by the records: sent less returned. */
  readonly jars: number;
  readonly jarsReturned: number;
  readonly sent: readonly Dispatch[];
  readonly returned: readonly Dispatch[];
  readonly made: readonly CallMade[];
  /** It received only samples to test: nobody there eats or sells them. */
  readonly laboratory: boolean;
  /** Somebody there was reached: an unanswered call doesn't count. */
  readonly reached: boolean;
}

/** Recipients of jars, most jars first, laboratories last. Jars that stayed in the sugarhouse need no call. */
export function callsOf(recall: CallsFrom): readonly Call[] {
  const outside = [...recall.dispatches, ...plansOverdue(recall)].filter((one) =>
    ['sale', 'gift', 'sample'].includes(one.kind),
  );
  const places = new Map<string, Dispatch[]>();
  for (const one of outside) places.set(placeKey(one.to), [...(places.get(placeKey(one.to)) ?? []), one]);
  return [...places]
    .map(([key, sent]) => {
      const made = recall.callsMade.filter((call) => placeKey(call.to) === key);
      const returned = recall.dispatches.filter((one) => one.kind === 'returned' && placeKey(one.to) === key);
      const jarsSent = jarsIn(sent.filter((one) => !one.planned));
      return {
        to: sent[0]?.to ?? '',
        telephone:
          made.findLast((call) => call.telephone)?.telephone ??
          lastOf(sent, (one) => one.telephone) ??
          lastOf(sent, (one) => telephoneIn(one.contact)),
        contact: lastOf(sent, (one) => withoutTelephone(one.contact)),
        jars: Math.max(0, jarsSent - jarsIn(returned)),
        jarsReturned: jarsIn(returned),
        sent,
        returned,
        made,
        laboratory: sent.every((one) => one.laboratory === true),
        reached: made.some((call) => call.reached === true),
      };
    })
    .sort(
      (one, other) =>
        Number(one.laboratory) - Number(other.laboratory) || other.jars - one.jars || one.to.localeCompare(other.to),
    );
}

const jarsIn = (dispatches: readonly Dispatch[]): number => dispatches.reduce((sum, one) => sum + one.jars, 0);

/** The calls as API and command line list them: whom, how to reach them, how many jars, and the calls made. */
export const callList = (recall: CallsFrom) =>
  callsOf(recall).map(({ to, telephone, contact, jars, jarsReturned, laboratory, reached, made }) => ({
    ...{ to, telephone, contact, jars, jarsReturned, laboratory, reached, made },
  }));

type CallsFrom = Pick<Recall, 'dispatches' | 'callsMade'> & Partial<Pick<Recall, 'plans' | 'asOf'>>;

/**
 * Plans that the hold stopped and whose time has passed: whether those jars left was not recorded, so their buyer is
 * called.
 */
const plansOverdue = ({ plans = [], asOf }: CallsFrom): Dispatch[] =>
  plans.filter((one) => asOf !== undefined && Date.parse(one.sentAt) <= Date.parse(asOf));

const lastOf = (sent: readonly Dispatch[], of: (one: Dispatch) => string | null | undefined): string | null =>
  sent.map(of).findLast(Boolean) ?? null;

/** In books older than the field the number is part of the contact text, alone or before an address. */
function telephoneIn(contact: string | null): string | null {
  const number = /(?<![\d-])[+(]?\d[\d\s()+.-]{5,}\d(?![\d-])/.exec(contact ?? '')?.[0].trim();
  const isDate = number !== undefined && /^\d{4}-\d\d-\d\d/.test(number);
  return number !== undefined && !isDate && number.replace(/\D/g, '').length >= 7 ? number : null;
}

function withoutTelephone(contact: string | null): string | null {
  const number = telephoneIn(contact);
  if (contact === null || number === null) return contact;
  return (
    contact
      .replace(number, '')
      .replace(/^[\s,;:]+|[\s,;:]+$/g, '')
      .replace(/\s*([,;])[\s,;]+/g, '$1 ') || null
  );
}

/** The same recipient typed in different case or spacing is called once. */
const placeKey = (to: string): string => to.trim().replace(/\s+/g, ' ').toLowerCase();

/** Whether two texts name one recipient. */
export const isSamePlace = (one: string, other: string): boolean => placeKey(one) === placeKey(other);

/** `2026-05-03 12:10 by WE: reached, spoke to June Pascoe, 4 jars kept apart`. */
export const callMadeText = (call: CallMade): string =>
  `${minute(call.at)} by ${call.by}: ${[
    call.reached === null ? 'whether somebody answered is not recorded' : call.reached ? 'reached' : 'no answer',
    ...(call.spokeTo ? [`spoke to ${call.spokeTo}`] : []),
    ...(call.keptApart === null ? [] : [`${many(call.keptApart, 'jar')} kept apart`]),
    ...(call.note ? [call.note] : []),
  ].join(', ')}`;

/** `State laboratory (a laboratory, not a buyer)`: whom to call, and whether it is a laboratory. */
export const calledText = ({ to, laboratory }: Pick<Call, 'to' | 'laboratory'>): string =>
  laboratory ? `${to} (a laboratory, not a buyer)` : to;

/** A dispatch by count is never attributed to jar codes. */
export function sentText(sent: Dispatch): string {
  const codes = sent.jarCodes.length === 0 ? '' : ` (${sent.jarCodes.map(printedJarCode).join(', ')})`;
  const late = sent.alreadyLeft
    ? ', reported after they had left'
    : sent.planned
      ? ', planned and then held: whether they went is not recorded'
      : '';
  return `${many(sent.jars, 'jar')} of ${sent.lot}${codes}, ${howText(sent)}, ${day(sent.sentAt)}${late}`;
}

/** `2 jars of 26077A-1 returned, 2026-05-03` */
export const returnedText = ({ jars, lot, sentAt }: Dispatch): string =>
  `${many(jars, 'jar')} of ${lot} returned, ${day(sentAt)}`;

/** A sentence on what a recall reaches, to read before it is declared. */
export function reachText(recall: CallsFrom & Pick<Recall, 'lots'>): string {
  const sum = (of: (lot: Recall['lots'][number]) => number): number =>
    recall.lots.reduce((total, lot) => total + of(lot), 0);
  const calls = callsOf(recall);
  const named = calls
    .slice(0, maxNamed)
    .map((call) => `${call.to} ${call.jars}${call.laboratory ? ' (laboratory)' : ''}`);
  const more = calls.length > maxNamed ? ` and ${calls.length - maxNamed} more` : '';
  const sentOut = sum((lot) => lot.jarsSentOut);
  const samples = jarsIn(recall.dispatches.filter(({ kind }) => kind === 'sample'));
  const unmatched = calls.reduce((total, { jars }) => total + jars, 0) - sentOut - samples;
  const buyers =
    calls.length === 0
      ? 'by the records no jar has left the sugarhouse'
      : `${many(sentOut, 'jar')} sent out${samples > 0 ? ` and ${samples} given as ${samples === 1 ? 'a sample' : 'samples'}` : ''}; to call: ${named.join(', ')}${more}` +
        (unmatched > 0
          ? `; ${unmatched} of these ${unmatched === 1 ? 'was' : 'were'} returned, it is not known by whom`
          : '');
  const uncounted = recall.lots.filter((lot) => lot.unaccounted === null).length;
  return (
    `Affected: ${many(recall.lots.length, 'pack')} and ${many(
      sum((lot) => lot.jarsMade),
      'jar',
    )}: ` +
    `${sum((lot) => lot.jarsOnHand)} on hand by the records${uncounted > 0 ? ` (${many(uncounted, 'pack')} not counted)` : ''}, ${buyers}.`
  );
}
const maxNamed = 6;
