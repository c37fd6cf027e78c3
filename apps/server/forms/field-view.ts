import { measureNames } from '#libs/format/measure-names.js';
import { capital } from '../text/capital.js';
import {
  container,
  count,
  day,
  fillReadings,
  pastMoment,
  instruments,
  moment,
  portions,
  type Fields,
} from '#libs/actions/record/fields.js';
import { jarsOrCodes } from '#libs/actions/jars/jar-selection.js';
import { parseJarSpans } from '#libs/syrup/jars/jar-spans.js';
import { codesBox } from './jar-numbers.js';
import { spanRows } from './span-rows.js';
import { isPairs, pairView } from './pair-rows.js';
import { readingRows, rowsVisibleAtFirst } from './reading-rows.js';
import { type Measures, unitsOf } from './units.js';
import { allTexts, firstText, type Posted, typedOrPicked } from './posted.js';
import { containerTiles } from './container-tiles.js';
import type { Parsed } from '#libs/syrup/quantities/quantities.js';
import type { Fault } from '#libs/actions/record/problem.js';
import type { Control, FieldView, PortionView } from '#pages/parts/field-view.js';

export { allTexts, firstText, type Posted, typedOrPicked };

/** A lot to draw from, and how much of it is left. */
export interface Source {
  readonly code: string;
  readonly text: string;
}
/** A value typed into a box before, to be picked instead of typed again. */
export interface Offer {
  readonly value: string;
  readonly text: string;
}

export interface FieldOptions {
  readonly posted?: Posted | undefined;
  readonly faults?: readonly Fault[] | undefined;
  readonly measures: Measures;
  /** Codes of lots with nothing left, by field. A form copied from paper offers them, since it may be late. */
  readonly empty?: Readonly<Record<string, readonly string[]>>;
  /** The lots to draw a portion from, by field. */
  readonly sources?: Readonly<Record<string, readonly Source[]>>;
  readonly remembered?: Readonly<Record<string, readonly Offer[]>>;
  /** `live`: it happens now, so a blank time is now. `paper`: copied later, the time must be given. */
  readonly when?: 'live' | 'paper';
  /** The names of the fields to show, in order; all of them if undefined. */
  readonly names?: readonly string[];
  readonly needed?: readonly string[];
}

/** The fields of a record as a form shows them, with what was typed and what is wrong with it. */
export function fieldViews(fields: Fields, options: FieldOptions): FieldView[] {
  const names = options.names ?? Object.keys(fields);
  return names.flatMap((name) => {
    const field = fields[name];
    return field ? [fieldView(name, field, options)] : [];
  });
}

function fieldView(name: string, field: Fields[string], options: FieldOptions): FieldView {
  const { posted = {}, faults = [], measures } = options;
  const control = controlOf(field, measures);
  const { typed, remembered } = splitPickedAndTyped(name, field.list, posted, options.remembered?.[name] ?? []);
  const ticked = new Set(allTexts(posted[name]).flatMap((each) => each.split(';')));
  const fault = faults.find((each) => each.field === name);
  return {
    name,
    control,
    label: field.label,
    hint: control === 'readings' ? '180 °F or 82 °C and more' : control === 'jars' ? '' : capital(field.hint),
    // The notation for several values in one text is for files and scripts; a page has a box for each, and a picker for
    // a time.
    example:
      ['choice', 'ticks', 'suggested', 'portions', 'readings', 'pairs', 'spans', 'jars', 'moment', 'day'].includes(
        control,
      ) ||
      (control === 'text' && field.list)
        ? ''
        : field.example,
    needed: field.needed || (options.needed?.includes(name) ?? false),
    typed: control === 'many' || control === 'readings' ? typed.split(';').join('\n') : typed,
    units: unitsOf(field, measures).map(([value, text], n) => ({
      value,
      text,
      chosen: posted[`${name}~unit`] === undefined ? n === 0 : posted[`${name}~unit`] === value,
    })),
    choices: (field.choices ?? field.suggestions ?? []).map((value) => ({
      value,
      text: choiceText(value),
      chosen: control === 'ticks' ? ticked.has(value) : typed !== '' && choiceOf(field, typed) === value,
    })),
    portions: control === 'portions' ? portionViews(name, posted, options.sources?.[name] ?? []) : [],
    more:
      control === 'portions'
        ? {
            lot: typedOrPicked(posted, `${name}~more`),
            amount: firstText(posted[`${name}~more~amount`]),
            empty: options.empty?.[name] ?? [],
          }
        : undefined,
    ...(control === 'spans' || control === 'jars' ? { spans: spanRows(name, posted) } : {}),
    ...(control === 'jars' ? jarsView(name, typed, posted) : {}),
    pairs: pairView(name, field.read, posted),
    ...(control === 'readings' ? { readings: readingRows(name, posted), readingsInSight: rowsVisibleAtFirst } : {}),
    remembered,
    several: field.list,
    tiles:
      (field.read as unknown) === container
        ? containerTiles(
            measures.canada || measures.volumes === 'L',
            firstText(posted[`${name}~kind`]),
            firstText(posted[`${name}~size`]),
          )
        : undefined,
    fault: fault && capital(formatExpected(fault)),
    ago: options.when === 'live' && control === 'moment' ? firstText(posted[`${name}~ago`]) || 'now' : undefined,
  };
}

/** A text that is also offered as a choice is picked there and not repeated in the box. */
function splitPickedAndTyped(name: string, list: boolean, posted: Posted, offers: readonly Offer[]) {
  const rawText = list ? firstText(posted[name]) : (allTexts(posted[name]).at(-1) ?? '');
  const boxTexts = list ? rawText.split(/[;\n]/).map((each) => each.trim()) : [rawText];
  const isOffered = (text: string): boolean => offers.some(({ value }) => value === text);
  const picked = new Set([...allTexts(posted[`${name}~pick`]), ...boxTexts.filter(isOffered)]);
  return {
    typed: offers.length === 0 ? rawText : boxTexts.filter((text) => !isOffered(text)).join(';'),
    remembered: offers.map((offer) => ({ ...offer, chosen: picked.has(offer.value) })),
  };
}

/** The choice that a typed text stands for: `60 F` for `60-F`, `Boiling water` for `boiling-water`. */
function choiceOf({ read, choices }: Fields[string], typed: string): unknown {
  if (choices === undefined || choices.includes(typed)) return typed;
  // A choice is parsed without the book's zone and units.
  return (read as (text: string) => Parsed<unknown>)(typed).value ?? typed;
}

/** `boiling-water` → `boiling water`, `F` → `°F`, `60-F` → `60 °F` */
export const choiceText = (value: string): string =>
  measureNames[value] ??
  value
    .replaceAll('-', ' ')
    .replace(/ atc$/, ' with ATC')
    .replace(/^(\d+) F$/, '$1 °F');

function controlOf(field: Fields[string], measures: Measures): Control {
  const read: unknown = field.read;
  if (field.choices) return field.list ? 'ticks' : 'choice';
  if (field.suggestions) return 'suggested';
  if (read === portions) return 'portions';
  if (read === instruments) return 'text';
  if (read === fillReadings) return 'readings';
  if (read === parseJarSpans) return 'spans';
  if (isPairs(read)) return 'pairs';
  if (read === jarsOrCodes) return 'jars';
  if (field.list) return 'many';
  if (read === moment || read === pastMoment) return 'moment';
  if (read === day) return 'day';
  if (read === count) return 'number';
  if (unitsOf(field, measures).length > 0) return 'quantity';
  return field.label === 'Note' ? 'long' : 'text';
}

/** Codes in the box for the count, as forms of an earlier version post them, are shown in the box for codes. */
function jarsView(name: string, typed: string, posted: Posted): Pick<FieldView, 'typed' | 'codes'> {
  const isCodes = typed !== '' && !/^(?:\d+$|jars?\b)/iu.test(typed);
  const codes = allTexts(posted[codesBox(name)]).join('\n');
  return isCodes ? { typed: '', codes: [codes, typed].filter(Boolean).join('\n') } : { typed, codes };
}

function portionViews(name: string, posted: Posted, sources: readonly Source[]): PortionView[] {
  const selected = new Set(allTexts(posted[name]));
  return sources.map((source) => ({
    ...source,
    taken: selected.has(source.code),
    amount: firstText(posted[`${name}~of~${source.code}`]),
  }));
}

/** What to type in a field's box; what was typed, where it could not be parsed. */
export function formatExpected({ expected, got }: Fault): string {
  if (got !== 'nothing') return `enter ${expected} (typed: ${got})`;
  const example = /^text like (.+)$/su.exec(expected)?.[1];
  return example ? `fill this in, for example ${example}` : `enter ${expected}`;
}
