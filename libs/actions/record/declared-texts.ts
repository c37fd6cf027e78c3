import type { Fields } from './fields.js';
import type { StoredFields } from './stored-fields.js';
import { valueItems } from './value-text.js';

/** A field of a record as a document prints it; `text` is null where the record leaves it blank. */
export interface DeclaredText {
  readonly name: string;
  readonly label: string;
  readonly text: string | null;
}

/** Where a field can be declared to appear: the season's summary, the label, or the jar's public page. */
type DeclaredPlace = 'inSummary' | 'onLabel' | 'onJarPage';

/** The names of the fields declared for a place. */
export const declaredNames = (fields: Fields, place: DeclaredPlace): string[] =>
  Object.keys(fields).filter((name) => fields[name]?.[place]);

/** The texts of a record's fields declared for a place, in the order of their table. */
export const declaredTexts = (fields: Fields, place: DeclaredPlace, record: StoredFields): DeclaredText[] =>
  declaredNames(fields, place).map((name) => ({
    name,
    label: fields[name]?.label ?? name,
    text: valueItems(fields[name], record, name).join('; ') || null,
  }));
