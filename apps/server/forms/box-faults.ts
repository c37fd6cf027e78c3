import type { ParseOptions } from '#libs/actions/record/parse-options.js';
import type { Field } from '#libs/actions/record/fields.js';
import type { Fault } from '#libs/actions/record/problem.js';
import type { BoxFault, FieldView } from '#pages/parts/field-view.js';
import { all, one, type Posted } from './field-view.js';
import { withUnit } from './posted-texts.js';
import { readingRows, readingText } from './reading-rows.js';

interface SentForm {
  readonly field: Field<unknown> | undefined;
  readonly posted: Posted | undefined;
  readonly faults: readonly Fault[];
  readonly options: ParseOptions;
}
interface BoxesOfField {
  readonly name: string;
  readonly field: Field<unknown>;
  readonly posted: Posted;
  readonly faults: readonly Fault[];
  readonly options: ParseOptions;
}

/**
 * A field that has several boxes; each fault is shown at its own box. The field's own reader is asked about each box, so that a
 * page refuses exactly what the record refuses.
 */
export function withBoxFaults(view: FieldView, { field, posted = {}, ...sent }: SentForm): FieldView {
  const faults = sent.faults.filter((each) => each.field === view.name);
  if (!field || faults.length === 0) return view;
  const boxes = { name: view.name, field, posted, faults, options: sent.options };
  const boxFaults =
    view.control === 'readings' ? readingFaults(boxes) : view.control === 'portions' ? portionFaults(boxes) : [];
  if (boxFaults.length === 0) return view;
  const fault =
    boxFaults.length === 1 ? 'Look at the marked box again' : `Look at the ${boxFaults.length} marked boxes again`;
  return { ...view, boxFaults, fault };
}

function readingFaults({ name, field, posted, faults, options }: BoxesOfField): BoxFault[] {
  const unit = one(posted[`${name}~unit`]);
  const isTaken = (text: string): boolean => field.read(text, options).mismatch === undefined;
  return readingRows(name, posted).flatMap((row): BoxFault[] => {
    const { n, clock, thermometer, jars } = row;
    const temp = withUnit(row.temp, unit);
    const wrong = (part: string, label: string, text: string): BoxFault[] => [
      { box: `${name}~row~${n}~${part}`, label: `Reading ${n}, ${label}`, text },
    ];
    if (temp === '') return clock || thermometer || jars ? wrong('temp', 'temperature', 'Enter the temperature') : [];
    if (!isTaken(temp)) return wrong('temp', 'temperature', temperatureText(row.temp, field, temp, options));
    const only = { temp, clock: '', thermometer: '', jars: '' };
    if (!isTaken(readingText({ ...only, clock })))
      return wrong('clock', 'time', `Enter a time like 14:10, not “${clock}”`);
    if (!isTaken(readingText({ ...only, thermometer })))
      return wrong(
        'thermometer',
        'thermometer',
        `Enter the id on the thermometer, without spaces, not “${thermometer}”`,
      );
    if (!isTaken(readingText({ ...only, jars })))
      return wrong('jars', 'jar', `Enter a jar like 12, jars like 9-16 or tray 2, not “${jars}”`);
    // What each box says can be read: what is left is a reading that can't have been taken at that time.
    const text = `"${readingText({ ...row, temp })}"`;
    const untimely = faults.find(({ got }) => got.startsWith(text));
    return untimely ? wrong('clock', 'time', `Enter ${untimely.expected}`) : [];
  });
}

/** A number that no jar was ever filled at says which; anything else is no temperature. */
function temperatureText(typed: string, field: BoxesOfField['field'], temp: string, options: ParseOptions): string {
  const expected = field.read(temp, options).mismatch?.expected ?? '';
  return expected.includes('at most')
    ? `Enter ${expected}`
    : `Enter a temperature like 184, in the unit above, not “${typed}”`;
}

function portionFaults({ name, field, posted, faults, options }: BoxesOfField): BoxFault[] {
  const unit = one(posted[`${name}~unit`]);
  const ticked = all(posted[name]);
  const amounts = Object.keys(posted)
    .filter((key) => key.startsWith(`${name}~of~`))
    .map((key) => ({ box: key, code: key.slice(`${name}~of~`.length), amount: one(posted[key]) }))
    .filter(({ code, amount }) => amount !== '' || ticked.includes(code));
  const more = one(posted[`${name}~more`]);
  const amountOfMore = { box: `${name}~more~amount`, code: more, amount: one(posted[`${name}~more~amount`]) };
  const wrongAmounts = [...amounts, amountOfMore].flatMap(({ box, code, amount }): BoxFault[] =>
    // The reader is asked about the amount by itself: which lot it is of doesn't matter to it.
    amount === '' || !field.read(`X:${withUnit(amount, unit)}`, options).mismatch
      ? []
      : [
          {
            box,
            label: code ? `Amount of ${code}` : 'Amount',
            text: `Enter an amount like 3, in the unit below or beside it, not “${amount}”`,
          },
        ],
  );
  const lotBoxes = [...amounts, { box: `${name}~more`, code: more }];
  const wrongLots = faults.flatMap(({ expected, got }): BoxFault[] => {
    const box =
      got === 'nothing' || (more === '' && amountOfMore.amount !== '')
        ? `${name}~more`
        : lotBoxes.find(({ code }) => code !== '' && [code, `"${code}"`].some((text) => got.startsWith(text)))?.box;
    if (box === undefined || wrongAmounts.some((each) => each.box === box)) return [];
    const text = got === 'nothing' ? 'Tick a lot, or enter its code' : `Enter ${expected} (typed: ${got})`;
    return [
      {
        box,
        label: 'Lot',
        text:
          more === '' && got !== 'nothing' && amountOfMore.amount !== ''
            ? 'Enter the lot that this amount is of'
            : text,
      },
    ];
  });
  return [...wrongAmounts, ...wrongLots];
}
