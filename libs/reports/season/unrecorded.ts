import { sapBoiled } from './totals.js';
import { formatSpans, jarsInSpans } from '#libs/syrup/jars/jar-spans.js';
import type { Season } from './season.js';
import { drawnOffOf, type DrawnOff } from './drawn-off.js';
import type { SeasonBoil } from './flow.js';
import type { SeasonLot } from './lot.js';
import { whole } from '#libs/format/format.js';

/** What a lot's record leaves blank: the topic, and the lots that lack it. */
export interface Unrecorded {
  readonly matter: string;
  readonly of: readonly string[];
  /** Where only some jars lack it: which, for each lot of `of`. */
  readonly jars?: readonly string[];
  /** Out of how many; 0 where it concerns the season. */
  readonly among: number;
}

/** What was not recorded, topic by topic. */
export function unrecorded(season: Season): readonly Unrecorded[] {
  const { lots, boils, side } = season;
  const drawn = drawnOffOf(season);
  const lacksAt = (part: keyof DrawnOff) => (boil: SeasonBoil) => drawn.get(boil.lot)?.[part].length === 0;
  const of = (matter: string, lacks: (lot: SeasonLot) => boolean): Unrecorded => ({
    matter,
    of: lots.filter(lacks).map((lot) => lot.lot),
    among: lots.length,
  });
  const ofBoils = (matter: string, lacks: (boil: Season['boils'][number]) => boolean): Unrecorded => ({
    matter,
    of: boils.filter(lacks).map((boil) => boil.lot),
    among: boils.length,
  });
  const none = (matter: string, is: boolean): Unrecorded[] => (is ? [{ matter, of: [], among: 0 }] : []);
  return [
    of('fill temperature', (lot) => lot.fills.length === 0),
    of('thermometer of some fill readings', (lot) => lot.fills.some(({ reading }) => reading.instrument === null)),
    ...ofJars(lots),
    of('density', (lot) => lot.densityJudged === null),
    of('what the density was read with', (lot) => lot.densityJudged !== null && lot.densityJudged.by === null),
    of('seals', (lot) => lot.sealsFailed === null),
    of('shelf count', (lot) => lot.unaccounted === null),
    of('how the containers were prepared', (lot) => lot.containerPrep === null && !lot.atTheBench),
    of('colour', (lot) => lot.colour === null),
    ofBoils('sap', (boil) => sapBoiled(boil) === null),
    ofBoils('finish temperature', lacksAt('finish')),
    ofBoils('filter temperature', lacksAt('filter')),
    ofBoils('defoamer', (boil) => boil.defoamer === null),
    ofBoils('syrup made', (boil) => boil.syrupMillilitres === 0),
    ...none('any check of a thermometer or hydrometer', side.instrumentChecks.length === 0),
    ...none('cleaning', side.cleanings.length === 0),
    ...none('a water test', side.waterTests.length === 0),
    ...none('hygiene training', side.trainings.length === 0),
    ...none(
      'a mock recall with jars counted by a person',
      !side.practiceRecalls.some((each) => each.closed && each.counted !== null),
    ),
    ...none('equipment and what it is made of', side.equipment.length === 0),
    ...none('a licence or registration', side.licences.length === 0 && season.house.licences.length === 0),
  ].filter((each) => each.of.length > 0 || each.among === 0);
}

/** Readings without jar numbers cover no jar by themselves: then the numbers are missing, not the readings. */
function ofJars(lots: readonly SeasonLot[]): Unrecorded[] {
  const read = lots.filter((lot) => lot.fills.length > 0 && lot.uncoveredJars.length > 0);
  const [unnumbered, some] = [true, false].map((all) =>
    read.filter((lot) => jarsInSpans(lot.uncoveredJars) >= lot.jarsMade === all),
  ) as [SeasonLot[], SeasonLot[]];
  return [
    { matter: 'which jars the fill readings cover', of: unnumbered.map(({ lot }) => lot), among: lots.length },
    {
      matter: 'a fill reading that covers every jar',
      of: some.map(({ lot }) => lot),
      jars: some.map(({ uncoveredJars }) => formatSpans(uncoveredJars)),
      among: lots.length,
    },
  ];
}

/** `seals: 3 of 12 lots (26077A-1, 26078A-1, 26079A-1)`, with at most this many named. */
export function unrecordedText({ matter, of: lots, jars, among }: Unrecorded, maxNamed = 3): string {
  if (among === 0) return matter;
  const of = jars ? lots.map((lot, n) => `${lot} ${jars[n]}`) : lots;
  if (of.length === among && among > 1 && !jars) return `${matter}: all ${among}`;
  const named = of.slice(0, maxNamed).join(', ');
  const more = of.length > maxNamed ? ` and ${of.length - maxNamed} more` : '';
  return among === 1 ? `${matter}: ${named}` : `${matter}: ${whole(of.length)} of ${among} (${named}${more})`;
}
