import type { FieldView } from '#pages/parts/field-view.js';
import { placeChoices, zoneChoices } from '../text/place-choices.js';

/** The same field with a list of choices where it is a place or a time zone. */
export function withChoices(field: FieldView): FieldView {
  const choices =
    field.name === 'place' ? placeChoices(field.typed) : field.name === 'zone' ? zoneChoices(field.typed) : [];
  if (choices.length === 0) return field;
  const chosen = choices.map((each) => ({ ...each, chosen: each.value === field.typed }));
  return { ...field, control: 'select', example: '', choices: chosen };
}
