import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import type { Kind } from '../record/kind.js';
import type { Refusal } from '../record/problem.js';
import { record, type Recorded, recordInTransaction, type RecordOptions } from '../record/record.js';
import type { WriteContext } from '../record/write-context.js';
import { addPhotoInTransaction, type ReadPhoto, readPhoto } from './add-photo.js';

export interface TakenPhoto {
  readonly bytes: Uint8Array;
  readonly caption: string;
}

interface RecordRequest {
  readonly kind: Kind;
  readonly sent: Readonly<Record<string, unknown>>;
  readonly options?: RecordOptions | undefined;
  readonly photo?: TakenPhoto | undefined;
}

/** Records a form and, in the same write, the photo attached to it: both, or neither. */
export async function recordWithPhoto(
  book: Book,
  context: WriteContext,
  { kind, sent, options, photo }: RecordRequest,
): Promise<Recorded | Refusal> {
  if (!photo) return record(book, context, kind, sent, options);
  const read = await readPhoto(photo.bytes, photo.caption);
  if ('problem' in read) return read;
  return book.write((tx) => recordWithPhotoInTransaction(tx, context, { kind, sent, options }, read));
}

/** The same inside an open write transaction; the photo, if any, was decoded before. */
export async function recordWithPhotoInTransaction(
  tx: WriteTransaction,
  context: WriteContext,
  { kind, sent, options }: Omit<RecordRequest, 'photo'>,
  photo: ReadPhoto | undefined,
): Promise<Recorded | Refusal> {
  const saved = await recordInTransaction(tx, context, kind, sent, options);
  if (!photo || 'problem' in saved) return saved;
  // Where one form is sent twice, both its record and its photo are found again.
  const key = context.key === undefined ? {} : { key: `${context.key}:photo` };
  const added = await addPhotoInTransaction(tx, { ...context, ...key }, { kind: kind.kind, id: saved.id }, photo);
  return 'problem' in added ? added : saved;
}
