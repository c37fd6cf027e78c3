import { parseContainer } from '#libs/syrup/quantities/container.js';
import { parseFillReadings } from '#libs/syrup/quantities/fill-readings.js';
import {
  parseDensity,
  parsePercent,
  parseTemperature,
  parseVolume,
  type Mismatch,
  type Parsed,
} from '#libs/syrup/quantities/quantities.js';
import { type FieldLimit, maxItems, maxTextLetters, maxLetters } from './field-limits.js';
import type { ParseOptions } from './parse-options.js';
import { momentIn, parseDay, parseMoment } from './times.js';

/**
 * A field of a record, declared once: form, JSON, CSV column, command line and corrections are all made from it. Input
 * is text with its unit; output is the text and the SI value.
 */
export interface Field<T> extends FieldLimit {
  readonly read: Read<T>;
  readonly needed: boolean;
  /** The value where nothing was typed. */
  readonly blank: T;
  readonly label: string;
  readonly example: string;
  readonly hint: string;
  /** Where only these texts are accepted. */
  readonly choices?: readonly string[];
  /** The usual values, offered beside a box for any other. */
  readonly suggestions?: readonly string[];
  /** For a pack: a column of the summary's CSV and workbook, a key of its JSON, a line of the lot's page; not in the PDF's table. */
  readonly inSummary?: true;
  /** For a pack: printed on the label where there is room, as `Label: text`. */
  readonly onLabel?: true;
  /** For a pack: shown on the jar's public page, to whoever scans its code. */
  readonly onJarPage?: true;
}
export type Fields = Readonly<Record<string, Field<unknown>>>;
export type BodyOf<F> = { readonly [K in keyof F]: F[K] extends Field<infer T> ? T : never };

interface FieldText {
  readonly label: string;
  readonly example?: string;
  readonly hint?: string;
  readonly list?: boolean;
  /** The most characters, for each item where it is a list; otherwise the parser's own limit. */
  readonly letters?: number;
  readonly items?: number;
  /** For a count: its maximum. */
  readonly atMost?: number;
  readonly choices?: readonly string[];
  /** The usual values, offered beside a box for any other. */
  readonly suggestions?: readonly string[];
  readonly inSummary?: true;
  readonly onLabel?: true;
  readonly onJarPage?: true;
}

/** `recorded` is the text that the record already holds: it stays valid even where a new record may not hold it. */
type Read<T> = (text: string, options: ParseOptions, recorded?: string) => Parsed<T>;

/** A required field. */
export const required = <T>(read: Read<T>, label: FieldText): Field<T> => ({
  ...fieldProperties(read, label),
  read,
  needed: true,
  blank: undefined as T,
});
/** A field that may be blank and is then absent from the body. */
export const optional = <T>(read: Read<T>, label: FieldText): Field<T | undefined> => ({
  ...fieldProperties(read, label),
  read,
  needed: false,
  blank: undefined,
});
/** A field that defaults to `blank` where nothing was typed: an empty list, the usual kind. */
export const withDefault = <T>(read: Read<T>, blank: T, label: FieldText): Field<T> => ({
  ...fieldProperties(read, label),
  read,
  needed: false,
  blank,
});
/** A field of free text; empty where nothing was typed. */
export const freeText = (input: FieldText): Field<string> => withDefault(text, '', input);

const fieldProperties = (
  read: unknown,
  { label, example = '', hint = '', list = false, letters, items = maxItems, ...optional }: FieldText,
) => ({
  label,
  example,
  hint,
  list,
  letters: letters ?? (read === text ? maxTextLetters : maxLetters),
  items,
  ...optional,
});

/** Accepts any text unchanged. */
export const text: Read<string> = (typed) => ({ value: typed });
/** Parses a date and time, past or future; without an offset it is in the sugarhouse's time zone. */
export const moment: Read<string> = (typed, options) => parseMoment(typed, options.zone);
/** When something happened: not in the future, within a tolerance for clocks that differ. */
export const pastMoment: Read<string> = (typed, options, recorded) => {
  const parsed = parseMoment(typed, options.zone);
  if (parsed.mismatch || typed === recorded) return parsed;
  if (Date.parse(parsed.value) <= options.now.getTime() + futureToleranceMinutes * 60_000) return parsed;
  return { mismatch: { expected: notInFutureText(options), got: `"${typed}"` } };
};
export const futureToleranceMinutes = 10;
/** The message for a time in the future, with this computer's clock. */
export const notInFutureText = ({ zone, now }: ParseOptions): string =>
  `a time in the past: it is ${momentIn(zone, now).slice(0, 16)} by this computer’s clock. Is the clock right?`;
/** Parses a day, `2026-03-18`. */
export const day: Read<string> = (typed) => parseDay(typed);
/** Parses a temperature, which needs its unit. */
export const temperature: Read<import('#libs/syrup/quantities/quantities.js').Temperature> = (typed) =>
  parseTemperature(typed);
/** Parses a density in °Bx, °Bé or as specific gravity. */
export const density: Read<import('#libs/syrup/quantities/quantities.js').DensityReading> = (typed) =>
  parseDensity(typed);
/** Parses a volume; in a Canadian book a bare gallon is refused, since it could be either. */
export const volume: Read<import('#libs/syrup/quantities/quantities.js').Volume> = (typed, options) =>
  parseVolume(typed, options.volumes);
/** Parses a percentage from 0 to 100. */
export const percent: Read<import('#libs/syrup/quantities/quantities.js').Percent> = (typed) => parsePercent(typed);
/** Parses a container: its kind and volume, `glass jar 8 fl oz`. */
export const container: Read<import('#libs/syrup/quantities/container.js').Container> = (typed, options) =>
  parseContainer(typed, options.volumes);
/** Parses the readings of a pack, separated by `;` or `|`. */
export const fillReadings: Read<readonly import('#libs/syrup/quantities/fill-readings.js').FillReading[]> = (
  typed,
  _,
  recorded,
) => parseFillReadings(typed, recorded);

/** Parses the initials or short name of a user of the book. */
export const initials: Read<string> = (typed) =>
  /^[\p{L}\p{N}][\p{L}\p{N} .'’-]{0,39}$/u.test(typed)
    ? { value: typed }
    : { mismatch: { expected: 'initials or a name of at most 40 letters', got: `"${typed}"` } };

/** Who did it, as typed: initials, one name or several. The signer need not be a registered user. */
export const signature: Read<string> = (typed) =>
  /^\P{C}{1,80}$/u.test(typed)
    ? { value: typed }
    : { mismatch: { expected: 'initials or a name of at most 80 letters', got: `"${typed}"` } };

/** The maker's own id for a thing. Colons, semicolons and bars separate lists, so an id can't contain them. */
export const ownId: Read<string> = (typed) =>
  /^[^\p{C};:|]{1,60}$/u.test(typed)
    ? { value: typed }
    : { mismatch: { expected: 'an id of at most 60 letters, without : ; or |', got: `"${typed}"` } };

/** Ids as written on the instruments, separated as in other lists; a repeated id counts once. */
export const instruments: Read<readonly string[]> = (typed) => {
  const ids = typed.split(/[;|,\n]/).flatMap((part) => part.trim() || []);
  const wrong = ids.find((id) => ownId(id, undefined as never).mismatch);
  return wrong === undefined
    ? { value: [...new Set(ids)] }
    : { mismatch: { expected: 'ids like T1;H2, at most 60 letters each', got: `"${wrong}"` } };
};
export const instrumentsField: Field<readonly string[]> = withDefault(instruments, [] as readonly string[], {
  label: 'Read with',
  example: 'T1;H2',
  list: true,
  letters: 500,
  items: 60,
  hint: 'The ids written on the thermometer and the hydrometer or refractometer',
});

/** A count of whole jars, at most a million at a time. */
export const count: Read<number> = (typed) =>
  /^\d{1,7}$/.test(typed) && Number(typed) <= 1_000_000
    ? { value: Number(typed) }
    : { mismatch: { expected: 'a whole number like 24', got: `"${typed}"` } };

/** Parses one of the given values, in any case and with spaces or `_` for dashes. */
export const choice =
  <const C extends readonly string[]>(...choices: C): Read<C[number]> =>
  (typed) => {
    const found = choices.find((each) => each.toLowerCase() === typed.toLowerCase().replace(/[\s_]+/g, '-'));
    return found === undefined
      ? { mismatch: { expected: `one of ${choices.join(', ')}`, got: `"${typed}"` } }
      : { value: found };
  };

/** A list of checkboxes, each ticked when it was done or seen. An unticked box means not recorded, not “no”. */
export const checkboxes =
  <const C extends readonly string[]>(...choices: C): Read<readonly C[number][]> =>
  (typed, options) => {
    const read = splitList(typed).map((part) => choice(...choices)(part, options));
    const wrong = read.find(({ mismatch }) => mismatch);
    return wrong?.mismatch
      ? { mismatch: wrong.mismatch }
      : { value: choices.filter((each) => read.some(({ value }) => value === each)) };
  };

/** `26077A:3 gal`: a lot and, where recorded, how much of it. */
export interface PortionRequest {
  readonly lot: string;
  readonly volume?: Pick<import('#libs/syrup/quantities/quantities.js').Volume, 'typed' | 'millilitres'> | undefined;
}
/** Parses lots with amounts, `26077A:3 gal;26078A`; without an amount, all that is left. */
export const portions: Read<readonly PortionRequest[]> = (typed, options) => {
  const portionsTyped: PortionRequest[] = [];
  for (const part of splitList(typed)) {
    const [lot = '', ...rest] = part.split(':');
    const amount = rest.join(':').trim();
    if (lot.trim() === '') return wrongPortion(part);
    const parsed = amount === '' ? undefined : parseVolume(amount, options.volumes);
    if (parsed?.mismatch) return wrongPortion(part, parsed.mismatch);
    portionsTyped.push({ lot: lot.trim(), volume: parsed?.value });
  }
  return duplicateLotMismatch(portionsTyped) ?? { value: portionsTyped };
};
/** The fault of a list that names a lot twice; undefined where each appears once. */
export function duplicateLotMismatch(portions: readonly PortionRequest[]): { mismatch: Mismatch } | undefined {
  const named = new Set<string>();
  const twice = portions.find(({ lot }) => named.size === named.add(lot).size);
  return twice && { mismatch: { expected: 'each lot once', got: `"${twice.lot}" twice` } };
}
const wrongPortion = (part: string, mismatch?: Mismatch): { mismatch: Mismatch } => ({
  mismatch: {
    expected: `a lot with an amount like 26077A:3 gal${mismatch ? `; for the amount ${mismatch.expected}` : ''}`,
    got: `"${part}"`,
  },
});

/** The items of a list typed as one text, separated by `;`, `|` or line breaks; blank items are dropped. */
export const splitList = (typed: string): string[] =>
  typed
    .split(/[;|\n]/)
    .map((part) => part.trim())
    .filter((part) => part !== '');

/** The snake_case name used in files: gatheredAt → gathered_at. */
export const columnName = (name: string): string => name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);

export type Typed = Readonly<Record<string, string>>;
