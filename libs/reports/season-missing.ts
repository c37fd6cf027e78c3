import type { MissingItem, Season } from './season.js';

/** What a season's close still lacks, a sentence each. */
export function missingOf(season: Omit<Season, 'missing'>): MissingItem[] {
  const of = (code: string | null, words: string): MissingItem => ({ code, words });
  return [
    ...season.boils
      .filter((boil) => boil.syrupMillilitres === 0)
      .map((boil) => of(boil.lot, 'The boil has no syrup volume: it is still open.')),
    ...season.lots.flatMap((lot) => [
      ...(lot.sealsFailed === null ? [of(lot.lot, 'Seals were not checked.')] : []),
      ...(lot.status === 'held' ? [of(lot.lot, 'Held: no corrective action has let it go yet.')] : []),
      ...(lot.unaccounted === null ? [of(lot.lot, 'The shelf was not counted.')] : []),
      ...(lot.unaccounted
        ? [
            of(
              lot.lot,
              `${Math.abs(lot.unaccounted)} ${lot.unaccounted > 0 ? 'jars are unaccounted for' : 'jars more than can be there were counted'}.`,
            ),
          ]
        : []),
    ]),
    ...(season.side.instrumentChecks.length === 0 ? [of(null, 'No thermometer was checked this season.')] : []),
    ...(season.side.practiceRecalls.length === 0 ? [of(null, 'No practice recall was held this season.')] : []),
    ...(season.side.cleanings.length === 0 ? [of(null, 'No cleaning is on the record.')] : []),
  ];
}
