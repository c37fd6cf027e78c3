import type { SeasonBoil } from './flow.js';
import type { MissingItem, Season } from './season.js';
import { littleVolume } from '#libs/format/format-volume.js';

/** What is still missing before a season can be closed, one sentence each. */
export function missingOf(season: Omit<Season, 'missing'>): MissingItem[] {
  const of = (code: string | null, text: string): MissingItem => ({ code, words: text });
  return [
    ...season.boils
      .filter((boil) => boil.syrupMillilitres === 0)
      .map((boil) => of(boil.lot, 'The boil has no syrup volume: it is still open.')),
    ...season.syrupLeft
      .filter(({ lot, millilitres }) => millilitres > worthAsking(season.boils.find((boil) => boil.lot === lot)))
      .map(({ lot, millilitres }) =>
        of(
          lot,
          `${littleVolume(season, millilitres)} of its syrup is in no jar, and what became of it is not recorded.`,
        ),
      ),
    ...season.lots.flatMap((lot) => [
      ...(lot.sealsFailed === null ? [of(lot.lot, 'Seals were not checked.')] : []),
      // A lot without jars on hand needs nothing more: it was poured back, destroyed or is all sent.
      ...(lot.status === 'held' && lot.jarsOnHand > 0
        ? [of(lot.lot, 'Held: not released, and jars of it are on the shelf.')]
        : []),
      ...(lot.unaccounted === null && lot.jarsOnHand > 0 ? [of(lot.lot, 'The shelf was not counted.')] : []),
      ...(lot.unaccounted ? [of(lot.lot, formatUnaccounted(lot.unaccounted))] : []),
    ]),
    ...(season.side.instrumentChecks.length === 0 ? [of(null, 'No thermometer was checked this season.')] : []),
    ...(!season.side.practiceRecalls.some((each) => each.closed && each.counted !== null)
      ? [of(null, 'No mock recall in which somebody counted the shelf was held this season.')]
      : []),
    ...(season.side.cleanings.length === 0 ? [of(null, 'No cleaning is on the record.')] : []),
  ];
}

/**
 * Small remainders are ignored, since cooling and jugs account for them: a hundredth of the boil, and at least 100 mL.
 */
const worthAsking = (boil: SeasonBoil | undefined): number => Math.max(100, 0.01 * (boil?.syrupMillilitres ?? 0));

function formatUnaccounted(jars: number): string {
  const count = Math.abs(jars);
  if (jars < 0) return `${count} more ${count === 1 ? 'jar was' : 'jars were'} counted than can be there.`;
  return `${count} ${count === 1 ? 'jar is' : 'jars are'} unaccounted for.`;
}
