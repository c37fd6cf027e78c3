import type { Book } from '#libs/store/book.js';
import type { FillReading } from '#libs/syrup/quantities/fill-readings.js';
import { packsUnderway } from '../kinds/pack.js';
import { recordWithPhoto, type TakenPhoto } from '../photos/record-with-photo.js';
import { parsedField } from '../record/parsed-field.js';
import type { Refusal } from '../record/problem.js';
import type { Recorded } from '../record/record.js';
import type { WriteContext } from '../record/write-context.js';

/** Adds one temperature reading in the jar to a pack, with its photo; existing readings stay as they are. */
export const addFillReading = (
  book: Book,
  context: WriteContext,
  {
    pack,
    reading,
    photo,
  }: { readonly pack: string; readonly reading: FillReading; readonly photo?: TakenPhoto | undefined },
): Promise<Recorded | Refusal> =>
  recordWithPhoto(book, context, {
    kind: packsUnderway,
    sent: { fillTemps: parsedField(reading.typed, [reading]) },
    options: { add: true, of: pack },
    photo,
  });
