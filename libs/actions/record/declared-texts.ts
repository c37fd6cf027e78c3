import type { Fields } from './fields.js';
import type { StoredFields } from './stored-fields.js';
import { valueItems } from './value-text.js';

/** A field of a record as a document prints it; `text` is null where the record leaves it blank. */
export interface DeclaredText {
  readonly name: string;
  readonly label: string;
  readonly text: string | null;
}

/** The names of the fields declared for a place: the season's summary, or the label. */
export const declaredNames = (fields: Fields, place: 'inSummary' | 'onLabel'): string[] =>
  Object.keys(fields).filter((name) => fields[name]?.[place]);

/** The texts of a record's fields declared for a place, in the order of their table. */
export const declaredTexts = (fields: Fields, place: 'inSummary' | 'onLabel', record: StoredFields): DeclaredText[] =>
  declaredNames(fields, place).map((name) => ({
    name,
    label: fields[name]?.label ?? name,
    text: valueItems(fields[name], record, name).join('; ') || null,
  }));
