import { type Field, type Fields, fillReadings, portions } from '#libs/actions/record/fields.js';
import type { ParseOptions } from '#libs/actions/record/parse-options.js';
import type { ParsedField } from '#libs/actions/record/parsed-field.js';
import { momentIn } from '#libs/actions/record/times.js';
import { allTexts, firstText, type Posted } from './field-view.js';
import { postedPortions } from './posted-portions.js';
import { jarsOrCodes } from '#libs/actions/jars/jar-selection.js';
import { parseJarSpans } from '#libs/syrup/jars/jar-spans.js';
import { postedJars } from './posted-jars.js';
import { postedSpans } from './posted-spans.js';
import { postedReadings } from './posted-readings.js';
import { linesWithUnit, withUnit } from './with-unit.js';

/**
 * A record's fields from a posted form: a bare number gets the unit chosen beside it, a time given as minutes ago
 * becomes that time. Readings and lots with boxes of their own are parsed here, box by box. Blank stays blank: no
 * reading is ever filled in.
 */
export function postedFields(
  fields: Fields,
  posted: Posted,
  options: ParseOptions,
): Record<string, string | ParsedField> {
  const sent: Record<string, string | ParsedField> = {};
  for (const [name, field] of Object.entries(fields)) {
    const value = postedValue(name, field, posted, options);
    if (value !== '') sent[name] = value;
  }
  return sent;
}

function postedValue(name: string, field: Field<unknown>, posted: Posted, options: ParseOptions): string | ParsedField {
  const boxes = { name, posted, options };
  const read: unknown = field.read;
  const boxValue =
    read === portions
      ? postedPortions(boxes)
      : read === fillReadings
        ? postedReadings(boxes)
        : read === parseJarSpans
          ? postedSpans(name, posted)
          : read === jarsOrCodes
            ? postedJars(name, posted)
            : undefined;
  if (boxValue !== undefined) return boxValue;
  const unit = firstText(posted[`${name}~unit`]);
  const typed = typedOrPicked(name, field.list, posted);
  if (typed !== '') return field.list ? linesWithUnit(typed, unit) : withUnit(typed, unit);
  const ago = firstText(posted[`${name}~ago`]);
  if (ago === '' || ago === 'other') return '';
  const minutes = ago === 'now' ? 0 : Number(ago);
  return Number.isInteger(minutes) && minutes >= 0 && minutes <= 24 * 60
    ? momentIn(options.zone, new Date(options.now.getTime() - minutes * 60_000))
    : ago;
}

/**
 * Typed text takes precedence over a picked choice; in a list both count. Container tiles fill a box that was left
 * blank.
 */
function typedOrPicked(name: string, list: boolean, posted: Posted): string {
  const [typed, picked] = [allTexts(posted[name]), allTexts(posted[`${name}~pick`])];
  if (list) return [...picked, ...typed].join('\n');
  const tiles = [firstText(posted[`${name}~kind`]), firstText(posted[`${name}~size`])].filter(Boolean);
  // A choice and its box for any other answer share one name; the box comes last.
  return (typed.at(-1) || picked[0]) ?? tiles.join(' ');
}
