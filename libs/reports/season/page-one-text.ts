import { ruleTitle } from '#libs/syrup/rules/rules.js';
import type { Block, BlockLine } from '#libs/pdf/blocks.js';
import { seasonChanges, seasonDeviations, seasonTotals, type SeasonTotals } from './totals.js';
import { formatChanges } from './field-changes.js';
import type { Deviation } from './deviation.js';
import { checkText, risksOf } from './risks.js';
import { unrecorded, unrecordedText } from './unrecorded.js';
import type { SeasonLot } from './lot.js';
import type { RecordRoot, Season, SeasonClosed } from './season.js';
import { day, many, named, whole } from '#libs/format/format.js';
import { formatSeasonVolume, littleVolume } from '#libs/format/format-volume.js';
import { sapMillilitres, syrupMillilitres } from './totals.js';

/** Negative where more jars were counted or sent than were made. */
function unaccountedText(jars: number | null): string {
  if (jars === null) return '';
  return jars < 0 ? ` − ${whole(-jars)} more than were made` : ` + ${whole(jars)} unaccounted for`;
}

/** `256 jars made = 156 on hand + 80 sent out (net of 2 returned) + 3 destroyed + 4 other + 3 unaccounted for`. */
export function balanceText(totals: SeasonTotals): string {
  const returned = totals.jarsReturned > 0 ? ` (net of ${whole(totals.jarsReturned)} returned)` : '';
  const unaccounted = unaccountedText(totals.unaccounted);
  const counted = totals.lotsNotCounted > 0 ? `; ${many(totals.lotsNotCounted, 'lot')} not counted` : '';
  return (
    `${many(totals.jarsMade, 'jar')} made = ${whole(totals.jarsOnHand)} on hand + ${whole(totals.jarsSentOut)} sent out${returned} + ` +
    `${whole(totals.jarsDestroyed)} destroyed + ${whole(totals.jarsOther)} other${unaccounted}${counted}`
  );
}

/** `3 boils · 822 gal of sap · 21.5 gal of syrup · 5 lots packed · 1 held now`. */
export function seasonLine(season: Season): string {
  const totals = seasonTotals(season);
  const without = totals.boilsWithoutSap > 0 ? ` (not recorded for ${many(totals.boilsWithoutSap, 'boil')})` : '';
  const sap = `${formatSeasonVolume(season, sapMillilitres(season))} of sap${without}`;
  const syrup = `${formatSeasonVolume(season, syrupMillilitres(season))} of syrup`;
  return [
    many(totals.boils, 'boil'),
    sap,
    syrup,
    `${many(totals.packs, 'lot')} packed`,
    `${whole(totals.held)} held now`,
    ...(totals.recalled > 0 ? [`${whole(totals.recalled)} recalled`] : []),
  ].join(' · ');
}

/**
 * Lots held and recalled, counted and named up to `maxNamed` each, and the numbers of deviations, changed verdicts,
 * late entries and complaints. The lists may continue on the next page, the counts may not.
 */
export function countBlock(season: Season, maxNamed = Infinity): Block {
  const totals = seasonTotals(season);
  const line = (word: string, count: number, none: string, status: SeasonLot['status']): BlockLine => {
    if (count === 0) return none;
    if (maxNamed === 0) return bold(`${word}: ${many(count, 'lot')}`);
    const lots = season.lots.filter((lot) => lot.status === status).map((lot) => lot.lot);
    const more = count > maxNamed ? ` and ${whole(count - maxNamed)} more` : '';
    return bold(`${word}, ${many(count, 'lot')}: ${lots.slice(0, maxNamed).join(', ')}${more}`);
  };
  return {
    title: 'Holds, recalls and deviations',
    lines: [
      line('HELD now', totals.held, 'Held now: none', 'held'),
      line('RECALLED', totals.recalled, 'Recalled: none', 'recalled'),
      `Deviations: ${whole(totals.deviations)}, still open: ${whole(totals.deviationsOpen)}`,
      `Corrections that changed a verdict: ${whole(totals.verdictChanges)}`,
      `Entries written more than a day late: ${whole(totals.lateEntries)}`,
      `Complaints: ${whole(totals.complaints)}`,
    ],
  };
}

const bold = (text: string): BlockLine => ({ text, bold: true });

/**
 * As `countBlock`, with every deviation and how it ended. Where `fits` is false for the counts with every lot named,
 * fewer are named: a count is never omitted.
 */
export function deviationBlock(season: Season, fits: (counts: Block) => boolean): Block {
  const totals = seasonTotals(season);
  let maxNamed = Math.max(totals.held, totals.recalled);
  let [fewer, tooMany] = [0, maxNamed];
  if (!fits(countBlock(season, maxNamed))) {
    while (tooMany - fewer > 1) {
      const half = Math.floor((fewer + tooMany) / 2);
      if (fits(countBlock(season, half))) fewer = half;
      else tooMany = half;
    }
    maxNamed = fewer;
  }
  const { title, lines } = countBlock(season, maxNamed);
  return {
    title,
    lines: [
      ...lines,
      ...seasonDeviations(season).map((each) => (each.open ? bold(deviationLine(each)) : deviationLine(each))),
      ...seasonChanges(season).map(
        (change) => `${change.lot}: ${formatChanges(change)}, ${day(change.at)} ${change.by}`,
      ),
    ],
  };
}

/** A deviation in one line: lot, rule, what was found and how it ended. */
export const deviationLine = (each: Deviation): string =>
  `${each.lot} ${ruleTitle(each.rule)}: ${each.found}; ${deviationEnd(each)}`;

/** How it ended, or that it is still open. */
export function deviationEnd({ open, released, cleared, kind, done }: Deviation): string {
  const [voided] = done;
  if (kind === 'void' && voided) return `voided ${day(voided.at)} ${voided.by}`;
  if (released) return `released ${day(released.at)} ${released.by}`;
  if (open && cleared) return `corrected ${day(cleared.at)} ${cleared.by}, NOT RELEASED`;
  if (open) return kind === 'recall' ? 'RECALLED' : 'STILL OPEN';
  return cleared ? `no longer applies since ${day(cleared.at)} ${cleared.by}` : 'ended';
}

/** Each instrument with its last check and the recorded result; and the last mock recall. */
export function instrumentBlocks(season: Season): readonly Block[] {
  const { side } = season;
  const ids = new Set([
    ...side.instruments.filter((one) => one.kind !== 'scale').map((one) => one.id),
    ...side.instrumentChecks.map((check) => check.instrument),
  ]);
  const lines = [...ids].map((id): BlockLine => {
    const kind = side.instruments.find((one) => one.id === id)?.kind;
    const name = kind ? `${id} ${kind}` : id;
    const last = side.instrumentChecks.filter((check) => check.instrument === id).at(-1);
    if (!last) return { text: `${name}: no check recorded this season`, bold: true };
    const text = `${name}: ${day(last.checkedAt)} ${last.against}, ${[
      `should read ${last.expectedTyped ?? 'not recorded'}`,
      `read ${last.foundTyped ?? 'not recorded'}`,
    ].join(', ')}: ${last.pass === null ? 'result not recorded' : checkText(last)}`;
    return last.pass === true ? text : { text, bold: true };
  });
  const recalls = side.practiceRecalls.filter((each) => each.closed);
  return [
    {
      title: 'Thermometers and hydrometers, last check',
      lines: lines.length > 0 ? lines : [{ text: 'not recorded', bold: true }],
    },
    { title: 'Mock recall', lines: recalls.length === 0 ? ['not recorded'] : recalls.slice(-1).map(mockRecallText) },
  ];
}

/** A mock recall in one line: when, by whom, of which lot and how long it took. */
export const mockRecallText = (each: Season['side']['practiceRecalls'][number]): string =>
  [
    `${day(each.at)} ${each.by}, lot ${each.lot || 'not recorded'}: ` +
      (each.jarsFound === null || each.jarsMade === null ? '' : `${each.jarsFound} of ${each.jarsMade} jars found, `) +
      (each.counted === null
        ? 'shelf count by a person not recorded'
        : `${many(each.counted, 'jar')} counted on the shelf`),
    ...(each.minutes === null ? [] : [`within ${many(each.minutes, 'minute')}`]),
  ].join(', ');

/** The block of page one that lists what was not recorded. */
export function unrecordedBlock(season: Season): Block {
  const lines = unrecorded(season).map((each) => unrecordedText(each));
  return { title: 'Not recorded', lines: lines.length > 0 ? lines : ['nothing that Boilbook asks for is missing'] };
}

/** The block of page one that lists the season's risks. */
export function riskBlock(season: Season): Block {
  const risks = risksOf(season);
  return {
    title: 'To ask about',
    lines:
      risks.length === 0
        ? ['nothing']
        : risks.map(({ of, recorded, asks }) => ({
            text: `${of}: ${recorded}; ${asks}`,
            bold: true as const,
          })),
  };
}

/** Destinations with the jars of each lot, most first. Sales and gifts as sent; returns are listed separately. */
export function placesBlock(season: Season): Block {
  const places = new Map<string, { jars: number; lots: string[] }>();
  for (const lot of season.lots)
    for (const sent of lot.sentTo) {
      if (!['sale', 'gift', 'returned'].includes(sent.kind)) continue;
      const key = sent.kind === 'sale' ? sent.place : `${sent.place} (${sent.kind})`;
      const line = places.get(key) ?? { jars: 0, lots: [] };
      line.jars += sent.jars;
      line.lots.push(`${lot.lot} ${whole(sent.jars)}`);
      places.set(key, line);
    }
  const sorted = [...places].sort((one, other) => other[1].jars - one[1].jars);
  return {
    title: 'Where the jars went',
    lines:
      sorted.length === 0
        ? ['no dispatch is recorded']
        : sorted.map(([place, { jars, lots }]) => `${place} ${whole(jars)}: ${lots.join(', ')}`),
  };
}

/** Syrup of earlier years in these jars, and this year's syrup that is in none. */
export function syrupText(season: Season): readonly string[] {
  return [
    ...season.carriedIn.map((from) => `Carried in: ${from.volumeTyped} of ${from.code} into ${from.into}`),
    ...season.syrupLeft.map(
      ({ lot, millilitres }) =>
        `${littleVolume(season, millilitres)} of ${lot} is in no jar; what became of it is not recorded`,
    ),
  ];
}

/** Who signed the season, over which entries, and what was recorded since. */
export const signedText = ({ closed, people, record }: Season): string =>
  closed
    ? `Signed by ${named(closed.by, people)}, ${day(closed.at)}, over ${many(closed.entries, 'entry', 'entries')} of the record; ${notSigned(closed, record)}`
    : 'Signed by: not recorded (the season has not been closed and signed)';

/** `nothing was recorded since`, `90 entries were recorded since, 88 about lots of this season: they are not signed` */
export function notSigned({ entries, lotEntriesSince }: SeasonClosed, record: RecordRoot): string {
  const since = record.entries - entries;
  if (since <= 0) return 'nothing was recorded since';
  const about = `${lotEntriesSince === 0 ? 'none' : whole(lotEntriesSince)} about lots of this season`;
  return `${many(since, 'entry was', 'entries were')} recorded since, ${about}: ${since === 1 ? 'it is' : 'they are'} not signed`;
}
