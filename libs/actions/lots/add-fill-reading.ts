import type { Book } from '#libs/store/book.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import { packsUnderway } from '../kinds/pack.js';
import { parsedField } from '../record/parsed-field.js';
import type { Refusal } from '../record/problem.js';
import { record, type Recorded } from '../record/record.js';
import type { WriteContext } from '../record/write-context.js';

/** Adds one reading in the jar to a pack; the readings it holds already stay as they were read. */
export const addFillReading = (
  book: Book,
  context: WriteContext,
  pack: string,
  reading: FillReading,
): Promise<Recorded | Refusal> =>
  record(book, context, packsUnderway, { fillTemps: parsedField(reading.typed, [reading]) }, { add: true, of: pack });
