import type { ParseOptions } from '#libs/actions/record/parse-options.js';
import { type BoxFault, faultyField, parsedField, type ParsedField } from '#libs/actions/record/parsed-field.js';
import { type FillField, type FillTexts, parseFillFields } from '#libs/syrup/quantities/fill-fields.js';
import { parseFillReadings } from '#libs/syrup/quantities/fill-readings.js';
import type { Mismatch } from '#libs/syrup/quantities/quantities.js';
import type { ReadingRow } from '#pages/parts/field-view.js';
import { allTexts, firstText, type Posted } from './field-view.js';
import { boxLabels, isJarNumber, jarNumbersFault, type JarNumbersFault, namedJarNumbers } from './jar-numbers.js';
import { filledRows, rowBox } from './reading-rows.js';
import { linesWithUnit, withUnit } from './with-unit.js';

interface PostedBoxes {
  readonly name: string;
  readonly posted: Posted;
  readonly options: ParseOptions;
}

/** Fill readings from their rows of boxes; undefined where no row was filled. */
export function postedReadings({ name, posted }: PostedBoxes): ParsedField | undefined {
  const rows = filledRows(name, posted);
  if (rows.length === 0) return undefined;
  const unit = firstText(posted[`${name}~unit`]);
  const lines = linesWithUnit(allTexts(posted[name]).join('\n'), unit);
  const parsedLines = parseFillReadings(lines);
  const parsedRows = rows.map((row) => ({
    row,
    result: parseFillFields(fillTexts(row, unit)),
    wrongSpan: spanFault(row),
  }));
  const typed = [
    ...(lines === '' ? [] : [lines]),
    ...parsedRows.map(({ row }) => Object.values(fillTexts(row, unit)).join(' ')),
  ];
  const faults: BoxFault[] = [
    ...(parsedLines.mismatch ? [parsedLines.mismatch] : []),
    ...parsedRows.flatMap(({ row, result, wrongSpan: spanFault }) => [
      ...(result.faults ?? []).map(({ field, expected, got }) => ({
        ...(field === 'temperature' ? temperatureFault(row.temp, { expected, got }) : { expected, got }),
        box: { name: rowBox(name, row.n, rowParts[field]), label: `Reading ${row.n}, ${boxNames[field]}` },
      })),
      ...(spanFault
        ? [
            {
              ...spanFault,
              box: {
                name: rowBox(name, row.n, spanFault.end),
                label: `Reading ${row.n}, ${boxLabels[spanFault.end].toLowerCase()}`,
              },
            },
          ]
        : []),
    ]),
  ];
  if (faults.length > 0 || parsedLines.mismatch) return faultyField(typed.join(';'), faults);
  const readings = [...parsedLines.value, ...parsedRows.flatMap(({ result }) => result.value ?? [])];
  return parsedField(readings.map((reading) => reading.typed).join(';'), readings);
}

/** The first box may also hold a name such as tray 2, which has no last jar. */
const spanFault = ({ from, to }: ReadingRow): JarNumbersFault | undefined =>
  to === '' && !/^\d/.test(from) ? undefined : jarNumbersFault({ from, to });

const fillTexts = ({ temp, clock, thermometer, from, to }: ReadingRow, unit: string): FillTexts => ({
  temperature: withUnit(temp, unit),
  clock,
  thermometer,
  jars: isJarNumber(from) ? namedJarNumbers({ from, to }) : from,
});

const rowParts = {
  temperature: 'temp',
  clock: 'clock',
  thermometer: 'thermometer',
  jars: 'from',
} as const satisfies Record<FillField, keyof ReadingRow>;
const boxNames: Readonly<Record<FillField, string>> = {
  temperature: 'temperature',
  clock: 'time',
  thermometer: 'thermometer',
  jars: 'first jar',
};

/** The unit is chosen above the rows. The message for a temperature that no jar was ever filled at gives the limit. */
function temperatureFault(typed: string, { expected, got }: Mismatch): BoxFault {
  if (typed === '') return { expected: 'the temperature', got: 'nothing' };
  if (expected.includes('at most')) return { expected, got };
  return { expected: 'a temperature like 184, in the unit above', got: `"${typed}"` };
}
