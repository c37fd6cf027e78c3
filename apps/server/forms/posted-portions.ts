import { type PortionRequest, duplicateLotMismatch, portions, volume } from '#libs/actions/record/fields.js';
import type { ParseOptions } from '#libs/actions/record/parse-options.js';
import { type BoxFault, faultyField, parsedField, type ParsedField } from '#libs/actions/record/parsed-field.js';
import type { Mismatch } from '#libs/syrup/quantities/quantities.js';
import type { Fault } from '#libs/actions/record/problem.js';
import { allTexts, firstText, type Posted, typedOrPicked } from './field-view.js';
import { withUnit } from './with-unit.js';

interface PostedBoxes {
  readonly name: string;
  readonly posted: Posted;
  readonly options: ParseOptions;
}

type Box = NonNullable<Fault['box']>;

/** One lot as its boxes give it: its tick or its code, and the amount with the unit chosen for all. */
export interface PostedPortion {
  readonly lot: string;
  readonly amount: string;
  readonly lotBox: Box;
  readonly amountBox: Box;
}

/**
 * Lots that were ticked or given an amount, and lots typed by their code, with how much of each. Undefined where the
 * form has no such boxes, empty where none was filled.
 */
export function postedPortions({ name, posted, options }: PostedBoxes): ParsedField | '' | undefined {
  if (!hasPortionBoxes(name, posted)) return undefined;
  const filled = filledPortions(name, posted);
  if (filled.length === 0) return '';
  const typed = filled.map(({ lot, amount }) => (amount === '' ? lot : `${lot}:${amount}`)).join(';');
  const parsedPortions = filled.map((each) => ({ each, result: readPortion(each, options) }));
  const faults = parsedPortions.flatMap(({ result }) => ('faults' in result ? result.faults : []));
  if (faults.length > 0) return faultyField(typed, faults);
  const value = parsedPortions.flatMap(({ result }) => ('portions' in result ? result.portions : []));
  const duplicate = duplicateLotMismatch(value)?.mismatch;
  return duplicate ? faultyField(typed, [duplicate]) : parsedField(typed, value);
}

const hasPortionBoxes = (name: string, posted: Posted): boolean =>
  posted[`${name}~more`] !== undefined || Object.keys(posted).some((key) => key.startsWith(`${name}~of~`));

/** The boxes that were filled, in the order in which the record lists its lots. */
export function filledPortions(name: string, posted: Posted): PostedPortion[] {
  const unit = firstText(posted[`${name}~unit`]);
  const ticked = new Set(allTexts(posted[name]));
  const known = Object.keys(posted)
    .filter((key) => key.startsWith(`${name}~of~`))
    .map((key) => ({ key, lot: key.slice(`${name}~of~`.length), amount: firstText(posted[key]) }))
    .filter(({ lot, amount }) => ticked.has(lot) || amount !== '')
    .map(({ key, lot, amount }) => ({
      lot,
      amount: withUnit(amount, unit),
      lotBox: { name: key, label: 'Lot' },
      amountBox: { name: key, label: `Amount of ${lot}` },
    }));
  const more = typedOrPicked(posted, `${name}~more`);
  const amountOfMore = firstText(posted[`${name}~more~amount`]);
  const codes = more
    .split(/[;|\n]/)
    .map((part) => part.trim())
    .filter(Boolean);
  const others = amountOfMore === '' ? codes : [codes.join(' ')];
  return [
    ...known,
    ...others.map((lot) => ({
      lot,
      amount: withUnit(amountOfMore, unit),
      lotBox: { name: `${name}~more`, label: 'Lot' },
      amountBox: { name: `${name}~more~amount`, label: lot ? `Amount of ${lot}` : 'Amount' },
    })),
  ];
}

function readPortion(
  { lot, amount, lotBox, amountBox }: PostedPortion,
  options: ParseOptions,
): { readonly portions: readonly PortionRequest[] } | { readonly faults: readonly BoxFault[] } {
  // A lot's box also accepts its amount, in the notation of files: 26077A:3 gal.
  if (amount === '') {
    const parsed = portions(lot, options);
    return parsed.mismatch ? { faults: [{ ...parsed.mismatch, box: lotBox }] } : { portions: parsed.value };
  }
  const parsed = volume(amount, options);
  if (parsed.mismatch) return { faults: [{ ...amountFault(amount, parsed.mismatch), box: amountBox }] };
  if (lot === '') return { faults: [{ expected: 'the lot that this amount is of', got: 'nothing', box: lotBox }] };
  return { portions: [{ lot, volume: parsed.value }] };
}

/** A number with an impossible unit gets a message with the possible ones; anything else is no amount. */
const amountFault = (amount: string, { expected, got }: Mismatch): BoxFault =>
  /\d/.test(amount) ? { expected, got } : { expected: 'an amount like 3, in the unit below or beside it', got };
