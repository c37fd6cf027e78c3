import type { SeasonBoil } from './flow.js';
import type { MissingItem, Season } from './season.js';
import { day } from '#libs/format/format.js';
import { littleVolume } from '#libs/format/format-volume.js';

/** What is still missing before a season can be closed, one sentence each. */
export function missingOf(season: Omit<Season, 'missing'>): MissingItem[] {
  const of = (code: string | null, text: string): MissingItem => ({ code, words: text });
  return [
    ...season.boils
      .filter((boil) => boil.syrupMillilitres === 0)
      .map((boil) => of(boil.lot, 'The syrup volume is not recorded: the boil is still open.')),
    ...season.syrupLeft
      .filter(({ lot, millilitres }) => millilitres > worthAsking(season.boils.find((boil) => boil.lot === lot)))
      .map(({ lot, millilitres }) =>
        of(
          lot,
          `${littleVolume(season, millilitres)} of its syrup is in no jar, and what became of it is not recorded.`,
        ),
      ),
    ...season.lots.flatMap((lot) => [
      ...(lot.sealsFailed === null ? [of(lot.lot, 'No seal check is recorded.')] : []),
      // A lot without jars on hand needs nothing more: it was poured back, destroyed or is all sent.
      ...(lot.status === 'held' && lot.jarsOnHand > 0
        ? [of(lot.lot, 'Held and not released, with jars on hand.')]
        : []),
      ...(lot.status === 'held' && lot.jarsOnHand <= 0 && lot.jarsSentOut > 0
        ? [of(lot.lot, 'Held and not released, with jars sent out.')]
        : []),
      ...(lot.status === 'recalled' ? [of(lot.lot, 'Recalled: its call list shows who was reached.')] : []),
      ...(lot.unaccounted === null && lot.jarsOnHand > 0 ? [of(lot.lot, 'No shelf count is recorded.')] : []),
      ...(lot.unaccounted ? [of(lot.lot, formatUnaccounted(lot.unaccounted))] : []),
    ]),
    ...season.side.complaints
      .filter(({ done }) => done === '')
      .map(({ code, at }) => of(code, `What was done about the complaint of ${day(at)} is not recorded.`)),
    ...season.side.failedInstruments.map(({ instrument, at, against }) =>
      of(null, `${instrument} failed its check of ${day(at)} (${against}), and no good check is recorded since.`),
    ),
    ...(season.side.instrumentChecks.length === 0 ? [of(null, 'No thermometer check is recorded this season.')] : []),
    ...(!season.side.practiceRecalls.some((each) => each.closed && each.counted !== null)
      ? [of(null, 'No mock recall with a shelf count is recorded this season.')]
      : []),
    ...(season.side.cleanings.length === 0 ? [of(null, 'No cleaning is recorded this season.')] : []),
  ];
}

/**
 * Small remainders are ignored, since cooling and jugs account for them: a hundredth of the boil, and at least 100 mL.
 */
const worthAsking = (boil: SeasonBoil | undefined): number => Math.max(100, 0.01 * (boil?.syrupMillilitres ?? 0));

function formatUnaccounted(jars: number): string {
  const count = Math.abs(jars);
  if (jars < 0) return `${count} ${count === 1 ? 'jar' : 'jars'} more were counted than the records allow.`;
  return `${count} ${count === 1 ? 'jar is' : 'jars are'} unaccounted for.`;
}
