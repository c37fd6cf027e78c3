import type { Fields } from '#libs/actions/record/fields.js';
import { type CommandContext, optionText } from './command.js';

/** fillTemps → fill-temps: a record's fields as options. */
export const optionOf = (field: string): string => field.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

/** The fields of a record as command options, all of them text: `fillTemps` → `fill-temps`. */
export const fieldOptions = (fields: Fields, without: readonly string[] = []): Record<string, 'text'> =>
  Object.fromEntries(
    Object.keys(fields)
      .filter((name) => !without.includes(name))
      .map((name) => [optionOf(name), 'text' as const]),
  );

/** What `--help` says of each option: the field's label, example and hint. */
export const fieldMeaning = (fields: Fields): Record<string, string> =>
  Object.fromEntries(
    Object.entries(fields).map(([name, field]) => [
      optionOf(name),
      [field.label, field.example && `like ${field.example}`, field.hint].filter(Boolean).join('; '),
    ]),
  );

/** The record's fields that were given as options. */
export function fieldsTyped(cli: CommandContext, fields: Fields): Record<string, string> {
  const typed: Record<string, string> = {};
  for (const name of Object.keys(fields)) {
    const text = optionText(cli, optionOf(name));
    if (text !== undefined) typed[name] = text;
  }
  return typed;
}
