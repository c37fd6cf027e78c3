import { isQuestion } from '#libs/actions/kinds/answer.js';
import { formatFillClock } from '#libs/format/format-reading.js';
import type { JarBalance } from '#libs/store/queries/jar-balance.js';
import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import { listedReadings } from '#libs/syrup/jars/poured-back.js';
import type { Lot } from '#libs/store/queries/lots.js';
import type { Finding } from '#libs/syrup/rules/verdict.js';
import { isAboutLabels } from '#libs/syrup/labelling/label-rule-names.js';
import { formatSpans } from '#libs/syrup/jars/jar-spans.js';
import { many } from './amounts.js';
import { uncheckedSeals } from './seals-wait.js';
import { clock, elapsed, momentText } from './times.js';

/** About twelve hours, so that sediment settles: common practice, no source. Advice, never a limit. */
export const usualRestHours = 12;

/** What is left of a boil's syrup: the amount as number and text, and whether it was filtered as it was drawn off. */
interface SyrupLeft {
  readonly millilitres: number | undefined;
  readonly text: string;
  readonly filteredAsDrawn: boolean;
  /** The boil is held or recalled: its syrup isn’t called ready. */
  readonly isStopped?: boolean;
}

/** The current state of a boil, in one sentence. */
export function boilSentence(boil: BoilBody, left: SyrupLeft, now: string): string {
  if (!boil.finishedAt && !boil.syrupVolume)
    return `Boiling since ${momentText(boil.beganAt, now)}, ${elapsed(boil.beganAt, now)}.`;
  if (boil.restedFrom && !boil.restedUntil) return restSentence(boil.restedFrom, now, left.isStopped);
  if (!boil.syrupVolume) return 'Boil ended. The amount of syrup is not recorded yet.';
  if (left.millilitres !== undefined && left.millilitres < 1) return 'None left.';
  const isFiltered = left.filteredAsDrawn || boil.filterTemp !== undefined || boil.filterMedium !== '';
  if (!boil.restedFrom) return `${left.text} ${isFiltered ? 'filtered, to rest' : 'to filter and rest'}.`;
  return left.isStopped ? `${left.text} rested.` : `${left.text} rested and ready to pack.`;
}

/** `Resting since 20:10, 12 h at 08:10.` */
export function restSentence(from: string, now: string, isStopped = false): string {
  const hours = (Date.parse(now) - Date.parse(from)) / 3_600_000;
  const due = new Date(Date.parse(from) + usualRestHours * 3_600_000);
  const offsetMinutes = offsetOf(from);
  const dueClock = new Date(due.getTime() + offsetMinutes * 60_000).toISOString().slice(11, 16);
  return hours >= usualRestHours
    ? `Rested since ${momentText(from, now)}, ${elapsed(from, now)}.${isStopped ? '' : ' Ready to pack.'}`
    : `Resting since ${momentText(from, now)}, ${usualRestHours} h at ${dueClock}.`;
}

/** The current state of a pack, in one sentence. */
export function packSentence(lot: Lot, pack: PackBody, balance: JarBalance, now: string): string {
  const stops = lot.verdict?.findings.filter((finding) => finding.stop) ?? [];
  if (lot.state === 'recalled') return 'Recalled. No jar of it may leave; jars already out are recalled.';
  if (lot.jars === undefined && pack.fillTemps.length === 0)
    return `Started ${momentText(pack.packedAt, now)}. Read the first jar when it is capped.`;
  if (lot.jars === undefined) {
    const last = pack.fillTemps.at(-1);
    const read = listedReadings(pack.fillTemps).length;
    return `Filling since ${clock(pack.packedAt)}, ${many(read, 'jar')} read${last?.clock ? `, the last at ${formatFillClock(last.clock)}` : ''}.`;
  }
  if (lot.state === 'held') return heldSentence(lot.jars, balance, stops);
  if (pack.sealsFailed === undefined) return `${many(lot.jars, 'jar')} filled. Check the seals when they are cold.`;
  const stock =
    balance.onHand < 1
      ? `None of ${many(lot.jars, 'jar')} is on hand.`
      : `${many(balance.onHand, 'jar')} of ${lot.jars} on hand.`;
  const unchecked = sealsToCheckAgain(lot);
  if (unchecked) return `${unchecked} ${stock}`;
  return `${lot.state === 'released' ? 'Released. ' : 'May go out. '}${stock}`;
}

/** The seals were counted, but too early or before some jars were packed again: those jars may not be sold or given yet. */
function sealsToCheckAgain(lot: Lot): string | undefined {
  const unchecked = uncheckedSeals(lot);
  if (unchecked.length === 0) return undefined;
  const spans = unchecked.flatMap(({ jars = [] }) => jars);
  const which = unchecked.every(({ jars }) => jars !== undefined) ? `of ${formatSpans(spans)} ` : '';
  return `Check the seals ${which}again when they are cold: no jar may be sold or given away before then.`;
}

/** Jars that wait are those on the shelf; where some are gone, the sentence says what became of them. */
function heldSentence(made: number, balance: JarBalance, stops: readonly Finding[]): string {
  const { onHand } = balance;
  const gone = onHand < made ? whereabouts(balance) : '';
  if (onHand < 1) return `Held. None of ${many(made, 'jar')} is on hand${gone && `: ${gone}`}.`;
  const wait = `${many(onHand, 'jar')} ${onHand === 1 ? 'waits' : 'wait'}${gone && `, of ${made}: ${gone}`}.`;
  if (stops.length > 0 && stops.every(({ rule }) => isQuestion(rule)))
    return `${wait} Answer the question${stops.length > 1 ? 's' : ''} below: until then none may be sent out.`;
  if (stops.some(({ rule }) => rule === 'harm-reported' || rule === 'harm-in-same-syrup'))
    return `${wait} ${balance.sentOut > 0 ? 'Ask your authority whether to recall those sent out.' : 'Ask your authority.'} Destroy the jars, or an owner releases the lot with the authority’s answer.`;
  // The findings say what to do about labels, a source lot and what is not recorded: nothing is read again.
  if (stops.length > 0 && stops.every(({ rule }) => isAboutLabels(rule) || openedElsewhere.includes(rule))) return wait;
  return stops.length > 0
    ? `${wait} Record what was done, with the new readings, then release the lot; or destroy ${onHand === 1 ? 'it' : 'them'}.`
    : `${wait} No hold rule applies any more: a maker can release it.`;
}

/** Rules that hold until something is recorded that nobody has to measure, or until another lot is released. */
const openedElsewhere: readonly string[] = ['hydrometer-temperature', 'defoamer-allergens', 'held-upstream'];

/** `40 destroyed, 2 broken` */
function whereabouts({ sentOut, unaccounted, parts }: JarBalance): string {
  const counts: readonly (readonly [number, string])[] = [
    [sentOut, 'sent out'],
    [parts.destroyed, 'destroyed'],
    [parts.broken, 'broken'],
    [parts.kept, 'kept'],
    [parts.retained, 'retained'],
    [parts.sample, 'given as samples'],
    [parts.pouredBack, 'poured back'],
    [parts.returnedApart, 'returned and set apart'],
    [unaccounted ?? 0, 'not accounted for'],
  ];
  return counts
    .filter(([jars]) => jars > 0)
    .map(([jars, how]) => `${jars} ${how}`)
    .join(', ');
}

const offsetOf = (moment: string): number => {
  const offset = /([+-])(\d\d):(\d\d)$/.exec(moment);
  return offset ? (offset[1] === '-' ? -1 : 1) * (Number(offset[2]) * 60 + Number(offset[3])) : 0;
};
