import type { SheetColumn } from '../lot/summary-columns.js';
import type { LotInput, Reading, SeasonLot } from './lot.js';
import type { House, Season } from './season.js';
import { litres, number, sheet, text, time, type Sheet } from './sheet.js';

/** What went into what, with input and output repeated on each row, so that it can be sorted by either. */
export const transformationSheet = (season: Season): Sheet =>
  sheet('Inputs and outputs', transformations(season), transformationColumns(season.house));

/** Every reading of the season, as read and as a number. */
export const readingSheet = (season: Season): Sheet => sheet('Readings', allReadings(season), readingColumns);

/** A row for each lot that went into another: input, output, place and date. */
interface Transformation {
  readonly input: LotInput;
  readonly output: string;
  readonly kind: string;
  readonly finishedAt: string | null;
  readonly quantity: number | null;
  readonly unit: string;
}

function transformations(season: Season): readonly Transformation[] {
  const boiled = season.boils.flatMap((boil) =>
    [...boil.inputs, ...boil.carriedFrom].map((input) => ({
      input,
      output: boil.lot,
      kind: 'boil: maple syrup in bulk',
      finishedAt: boil.finishedAt ?? boil.beganAt,
      quantity: litres(boil.syrupMillilitres),
      unit: 'L',
    })),
  );
  const packed = season.lots.flatMap((lot: SeasonLot) =>
    lot.inputs.map((input) => ({
      input,
      output: lot.lot,
      kind: `pack: maple syrup, ${lot.container}`,
      finishedAt: lot.packedAt,
      quantity: lot.jarsMade,
      unit: 'jars',
    })),
  );
  return [...boiled, ...packed];
}

const transformationColumns = (house: House): readonly SheetColumn<Transformation>[] => [
  text('Input lot', 12, (row) => row.input.code),
  text('Input as written', 14, (row) => row.input.volumeTyped),
  number('Input (L)', (row) => litres(row.input.millilitres)),
  text('Output lot', 12, (row) => row.output),
  text('Output', 34, (row) => row.kind),
  number('Output quantity', (row) => row.quantity),
  text('Output unit', 10, (row) => row.unit),
  time('Finished', (row) => row.finishedAt),
  text('Place', 40, () => [house.name, ...house.addressLines].join(', ')),
];

interface ReadingLine {
  readonly of: string;
  readonly reading: Reading;
}

function allReadings(season: Season): readonly ReadingLine[] {
  const of = (code: string, readings: readonly Reading[]): ReadingLine[] =>
    readings.map((reading) => ({ of: code, reading }));
  return [
    ...season.gatherings.flatMap((one) => of(one.id, one.readings)),
    ...season.boils.flatMap((one) => of(one.lot, one.readings)),
    ...season.draws.flatMap((one) => of(one.id, one.readings)),
    ...season.lots.flatMap((one) => of(one.lot, one.readings)),
  ];
}

const readingColumns: readonly SheetColumn<ReadingLine>[] = [
  text('Of', 12, (row) => row.of),
  text('What was read', 16, (row) => row.reading.kind),
  text('As read', 12, (row) => row.reading.typed),
  number('Number', (row) => row.reading.number),
  text('Unit', 8, (row) => row.reading.unit),
  number('Celsius (deg C)', (row) =>
    row.reading.celsius === null ? null : Math.round(row.reading.celsius * 100) / 100,
  ),
  time('When', (row) => row.reading.takenAt),
  text('With', 10, (row) => row.reading.instrument),
  text('Suspect', 10, (row) => (row.reading.isSuspect ? 'yes' : 'no')),
  text('By', 6, (row) => row.reading.by),
];
