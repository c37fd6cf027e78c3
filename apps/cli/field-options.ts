import type { Field, Fields } from '#libs/actions/record/fields.js';
import { type CommandContext, optionText } from './command.js';

/** fillTemps → fill-temps: a record's fields as options. */
export const optionName = (field: string): string => field.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

/** The fields of a record as command options, all of them text: `fillTemps` → `fill-temps`. */
export const fieldOptions = (fields: Fields, without: readonly string[] = []): Record<string, 'text'> =>
  Object.fromEntries(
    Object.keys(fields)
      .filter((name) => !without.includes(name))
      .map((name) => [optionName(name), 'text' as const]),
  );

/** What `--help` prints of each option: the field's label, example, choices and hint. */
export const fieldHelp = (fields: Fields): Record<string, string> =>
  Object.fromEntries(Object.entries(fields).map(([name, field]) => [optionName(name), describeField(field)]));

/** `Syrup when packing. For example 190 F. In the kettle or the filler.` */
export function describeField(field: Pick<Field<unknown>, 'label' | 'example' | 'hint' | 'choices'>): string {
  const { label, example, choices = [], hint } = field;
  const values = choices.length > 0 ? `Values: ${choices.join(', ')}` : example && `For example ${example}`;
  return [label, values, hint.charAt(0).toUpperCase() + hint.slice(1)]
    .filter((text) => text !== '')
    .map((text) => (/[.?]$/.test(text) ? text : `${text}.`))
    .join(' ');
}

/** The record's fields that were given as options. */
export function typedFields(cli: CommandContext, fields: Fields): Record<string, string> {
  const typed: Record<string, string> = {};
  for (const name of Object.keys(fields)) {
    const text = optionText(cli, optionName(name));
    if (text !== undefined) typed[name] = text;
  }
  return typed;
}
