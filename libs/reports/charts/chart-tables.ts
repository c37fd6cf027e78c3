import { parseLotCode } from '#libs/syrup/codes/lot-codes.js';
import { isCold } from './readings.js';
import { densityText } from '../lot/summary-columns.js';
import { boilWithPanLog, seasonsBeside } from './seasons.js';
import { boilsWithRatio, jarsSentTo } from './flows.js';
import { presentClasses, syrupOfDays } from './syrup-by-day.js';
import type { PictureName } from './chart-plans.js';
import { type FillStatus, stoppedBy, type SeasonLot } from '../season/lot.js';
import type { Season } from '../season/season.js';
import { clock, shortDay, tenth, whole } from '#libs/format/format.js';
import { inSeasonUnit, seasonUnit } from '#libs/format/format-volume.js';

/** The data of a picture as a table: headings, and rows with the readings as typed. */
export interface PictureTable {
  readonly columns: readonly {
    readonly heading: string;
    readonly isNumber?: boolean;
    readonly isCode?: boolean;
    /** Holds many readings, and may be broken into lines. */
    readonly isLong?: boolean;
    /** In capitals where it is against the lot. */
    readonly isVerdict?: boolean;
  }[];
  readonly lines: readonly (readonly string[])[];
  /** Whether the last row is the sum. */
  readonly summed: boolean;
}

/** The table under each picture; without rows where there is nothing to draw. */
export function pictureTables(season: Season): Readonly<Record<PictureName, PictureTable>> {
  return {
    fillTemperatures: fills(season),
    density: densities(season),
    syrupByDay: byDay(season),
    sapToSyrup: ratios(season),
    panTemperature: pans(season),
    besideEarlier: earlierSeasons(season),
    jarsByPlace: places(season),
  };
}

/** `7 Mar 10:00`. */
const when = (iso: string, { year }: Season): string => `${shortDay(iso, year)} ${clock(iso)}`;

const code = (heading: string) => ({ heading, isCode: true });
const number = (heading: string) => ({ heading, isNumber: true });

function fills(season: Season): PictureTable {
  return {
    columns: [
      code('Lot'),
      { heading: 'Packed' },
      { heading: 'In the jar, one after the other', isLong: true },
      { heading: 'Verdict', isVerdict: true },
    ],
    lines: season.lots.map((lot) => {
      const standing = lot.fills.filter((fill) => !fill.replaced).map((fill) => fill.reading);
      const low = standing.filter((reading) => isCold(season, reading)).length;
      const verdict =
        standing.length === 0
          ? 'NOT RECORDED'
          : low > 0
            ? `TOO COLD: ${low} of ${standing.length}`
            : stoppedBy(lot, 'fill')
              ? 'HELD'
              : 'hot enough';
      return [
        lot.lot,
        when(lot.packedAt, season),
        lot.fills.map(checkText).join(', ') || (lot.lowestFillTyped ?? 'not recorded'),
        verdict,
      ];
    }),
    summed: false,
  };
}

/** `186 F at 14:10`, `178 F (replaced)`, `187 F (read again)`. */
const checkText = ({ reading, replaced, again }: FillStatus): string =>
  [
    reading.takenAt === null ? reading.typed : `${reading.typed} at ${clock(reading.takenAt)}`,
    ...(replaced ? ['(replaced)'] : []),
    ...(again ? ['(read again)'] : []),
  ].join(' ');

function densities(season: Season): PictureTable {
  return {
    columns: [
      code('Lot'),
      { heading: 'Packed' },
      { heading: 'As read' },
      number('°Bx at 20 °C'),
      { heading: 'Verdict', isVerdict: true },
    ],
    lines: season.lots.map((lot) => [
      lot.lot,
      when(lot.packedAt, season),
      asRead(lot),
      lot.brix === null
        ? ''
        : `${tenth(lot.brix)}${lot.brixUncertainty === null ? '' : ` ± ${tenth(lot.brixUncertainty)}`}`,
      stoppedBy(lot, 'density') ? 'HELD' : lot.brix === null ? 'NOT RECORDED' : 'within',
    ]),
    summed: false,
  };
}

/** The reading behind the verdict. */
const asRead = (lot: SeasonLot): string => densityText(lot) || 'not recorded';

function byDay(season: Season): PictureTable {
  const days = syrupOfDays(season);
  const present = presentClasses(days);
  const sum = (amounts: readonly number[]): string => tenth(amounts.reduce((total, amount) => total + amount, 0));
  const amountsOf = (day: string | undefined, colour: string | undefined): number[] =>
    days
      .filter((each) => (day === undefined || each.day === day) && (colour === undefined || each.colour === colour))
      .map((each) => each.amount);
  const dates = [...new Set(days.map((each) => each.day))].sort();
  const line = (text: string, day: string | undefined): string[] => [
    text,
    ...present.map((colour) => (amountsOf(day, colour).length === 0 ? '' : sum(amountsOf(day, colour)))),
    sum(amountsOf(day, undefined)),
  ];
  return {
    columns: [{ heading: `Day, ${seasonUnit(season)}` }, ...present.map(number), number('together')],
    lines:
      dates.length === 0
        ? []
        : [...dates.map((day) => line(shortDay(day, season.year), day)), line(seasonText(season), undefined)],
    summed: true,
  };
}

/** Syrup that was poured back or drawn from a drum is packed twice and counts twice in the sum, as a note says. */
function seasonText(season: Season): string {
  const again = season.lots
    .flatMap((lot) => lot.inputs)
    .filter((input) => ['pack', 'blend'].includes(parseLotCode(input.code)?.kind ?? ''))
    .reduce((sum, input) => sum + input.millilitres, 0);
  return again > 0 ? `season, ${tenth(inSeasonUnit(season, again))} of it packed again` : 'season';
}

function ratios(season: Season): PictureTable {
  const boils = boilsWithRatio(season);
  const [sap, syrup] = [
    boils.reduce((sum, boil) => sum + boil.sapMillilitres, 0),
    boils.reduce((sum, boil) => sum + boil.syrupMillilitres, 0),
  ];
  const ratio = (of: number, by: number): string => `${tenth(of / by)} to 1`;
  return {
    columns: [code('Boil'), { heading: 'Began' }, number('Sap'), number('Syrup'), number('Sap to syrup')],
    lines: [
      ...boils.map((boil) => [
        boil.lot,
        when(boil.beganAt, season),
        boil.sapVolumeTyped ?? boil.inputs.map(({ volumeTyped }) => volumeTyped).join(' + '),
        boil.syrupVolumeTyped,
        ratio(boil.sapMillilitres, boil.syrupMillilitres),
      ]),
      ...(boils.length === 0 ? [] : [['season', '', '', '', ratio(sap, syrup)]]),
    ],
    summed: true,
  };
}

function pans(season: Season): PictureTable {
  const readings = boilWithPanLog(season)?.panLog ?? [];
  return {
    columns: [{ heading: 'When' }, { heading: 'What' }, number('As read')],
    lines: readings.map((reading) => [
      reading.takenAt === null ? 'not recorded' : when(reading.takenAt, season),
      reading.kind === 'draw' ? 'draw-off' : 'in the pan',
      reading.typed,
    ]),
    summed: false,
  };
}

function earlierSeasons(season: Season): PictureTable {
  return {
    columns: [{ heading: 'Season' }, number(`Syrup, ${seasonUnit(season)}`), number('Jars')],
    lines: seasonsBeside(season).map(({ year, amount, jars }) => [String(year), tenth(amount), whole(jars)]),
    summed: false,
  };
}

function places(season: Season): PictureTable {
  const sorted = jarsSentTo(season);
  const all = sorted.reduce((sum, [, jars]) => sum + jars, 0);
  return {
    columns: [{ heading: 'Place' }, number('Jars')],
    lines: [
      ...sorted.map(([place, jars]) => [place, whole(jars)]),
      ...(sorted.length === 0 ? [] : [['together', whole(all)]]),
    ],
    summed: true,
  };
}
