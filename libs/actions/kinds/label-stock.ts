import { readdirSync } from 'node:fs';
import { templatePath } from '#libs/package-root.js';
import type { Parsed } from '#libs/syrup/quantities/quantities.js';
import { parseLength } from '#libs/syrup/quantities/quantities.js';
import { geometryFaults, type SheetGeometry } from '#libs/syrup/quantities/sheet-geometry.js';
import { type BodyOf, choice, optional, moment, required, withDefault, signature, freeText } from '../record/fields.js';
import { kind } from '../record/kind.js';
import { type Problem, refused } from '../record/problem.js';

/** A length in millimetres where no unit is typed; inches where they are given. */
const length =
  (leastMm: number, expected: string) =>
  (typed: string): Parsed<number> => {
    const parsed = parseLength(/^[\d.,]+$/.test(typed) ? `${typed} mm` : typed);
    const mm = parsed.value && Math.round(parsed.value.millimetres * 1e4) / 1e4;
    return mm !== undefined && mm >= leastMm && mm <= 1500
      ? { value: mm }
      : { mismatch: { expected, got: typed === '' ? 'nothing' : `"${typed}"` } };
  };
const side = length(1, 'a length from 1 to 1500 mm like 66.7 mm or 2.625 in');
const margin = length(0, 'a length from 0 to 1500 mm like 12.7 mm or 0.5 in');
const upTo100 = (typed: string): Parsed<number> =>
  /^\d{1,3}$/.test(typed) && Number(typed) >= 1 && Number(typed) <= 100
    ? { value: Number(typed) }
    : { mismatch: { expected: 'a whole number from 1 to 100', got: typed === '' ? 'nothing' : `"${typed}"` } };
const stockName = (typed: string): Parsed<string> =>
  /^[a-z0-9]+(-[a-z0-9]+)*$/.test(typed) && typed.length <= 40
    ? { value: typed }
    : {
        mismatch: {
          expected: 'a name of small letters, digits and dashes, at most 40, like own-12-up-50x40',
          got: typed === '' ? 'nothing' : `"${typed}"`,
        },
      };

export const labelStockFields = {
  id: required(stockName, { label: 'Name', example: 'own-12-up-60x40' }),
  words: freeText({ label: 'In words', hint: 'If blank, its sizes describe it' }),
  feed: withDefault(choice('sheet', 'roll'), 'sheet', { label: 'Sheet or roll', choices: ['sheet', 'roll'] }),
  pageWidth: required(side, { label: 'Page width', example: '215.9 mm', hint: 'On a roll, the width of the backing' }),
  pageHeight: required(side, {
    label: 'Page height',
    example: '279.4 mm',
    hint: 'On a roll, from one label to the next',
  }),
  labelWidth: required(side, { label: 'Label width', example: '60 mm' }),
  labelHeight: required(side, { label: 'Label height', example: '40 mm' }),
  left: required(margin, { label: 'Left margin, to the first label', example: '10 mm' }),
  top: required(margin, { label: 'Top margin, to the first label', example: '12.5 mm' }),
  columns: required(upTo100, { label: 'Columns, labels side by side', example: '3' }),
  rows: required(upTo100, { label: 'Rows, labels one below the other', example: '6' }),
  pitchX: optional(side, {
    label: 'Pitch sideways',
    example: '65 mm',
    hint: 'From the left edge of a label to that of the next. Blank: they touch',
  }),
  pitchY: optional(side, {
    label: 'Pitch downwards',
    example: '42 mm',
    hint: 'From the top edge of a label to that of the next. Blank: they touch',
  }),
  corner: optional(margin, { label: 'Radius of the corners', example: '2 mm', hint: 'Blank: square' }),
  cut: withDefault(choice('rectangle', 'oval'), 'rectangle', {
    label: 'Cut',
    choices: ['rectangle', 'oval'],
    hint: 'Oval is also for round labels, which are as high as wide',
  }),
  used: withDefault(choice('yes', 'no'), 'yes', {
    label: 'Still used',
    choices: ['yes', 'no'],
    hint: '“No” stops offering it; labels already printed on it stay in the record',
  }),
  note: freeText({ label: 'Note' }),
  at: optional(moment, { label: 'When', example: '2026-03-01T09:00', hint: 'If blank, now' }),
  by: withDefault(signature, '', { label: 'By', example: 'WE' }),
};

/** The sugarhouse's own sheet or roll of labels. Logged, corrected and exported as any record. */
export const labelStocks = kind({
  kind: 'stock',
  plural: 'label-stocks',
  noun: 'label stock',
  fields: labelStockFields,
  idFields: ['id'],
  prepare: ({ first }, { body }) => {
    const geometry = stockGeometry(body);
    const problem = stockProblem(geometry);
    if (problem) return Promise.resolve({ problem });
    const at = body.at ?? first.at;
    return Promise.resolve({
      id: body.id,
      happenedAt: at,
      body: { ...body, at, by: body.by || first.by, geometry },
      about: [],
      judge: [],
      notes: [],
    });
  },
});

/**
 * The sheet's geometry in mm from its fields: labels touch where no pitch is given, corners are square where no radius
 * is.
 */
export function stockGeometry(body: BodyOf<typeof labelStockFields>): SheetGeometry {
  const { columns, rows, labelWidth, labelHeight } = body;
  return {
    name: body.id,
    words:
      body.words.slice(0, 120) ||
      `Own ${body.feed} ${body.id}, ${columns} × ${rows} labels of ${labelWidth} × ${labelHeight} mm`,
    pageWidthMm: body.pageWidth,
    pageHeightMm: body.pageHeight,
    labelWidthMm: labelWidth,
    labelHeightMm: labelHeight,
    leftMm: body.left,
    topMm: body.top,
    pitchXMm: body.pitchX ?? labelWidth,
    pitchYMm: body.pitchY ?? labelHeight,
    columns,
    rows,
    cornerMm: body.cut === 'oval' ? Math.min(labelWidth, labelHeight) / 2 : (body.corner ?? 0),
    roll: body.feed === 'roll',
    ...(body.cut === 'oval' ? { shape: 'oval' as const } : {}),
  };
}

/** Why a stock is refused: its name is that of a supplied one, or labels can't be printed on it. */
function stockProblem(geometry: SheetGeometry): Problem | undefined {
  if (suppliedStockNames().includes(geometry.name))
    return {
      kind: 'invalid',
      faults: [
        { field: 'id', expected: 'a name that no stock has that comes with the book', got: `"${geometry.name}"` },
      ],
    };
  const faults = geometryFaults(geometry);
  return faults.length > 0 ? refused('bad-stock', faults.map(sentence).join(' ')).problem : undefined;
}

/** A fault as a sentence: capital first letter, full stop at the end. */
export const sentence = (fault: string): string => `${fault.charAt(0).toUpperCase()}${fault.slice(1)}.`;

/** Each supplied stock is a file with its name. */
const suppliedStockNames = (): string[] =>
  readdirSync(templatePath('labels'))
    .filter((file) => file.endsWith('.json'))
    .map((file) => file.slice(0, -5));
