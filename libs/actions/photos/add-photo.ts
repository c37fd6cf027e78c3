import { randomBytes } from 'node:crypto';
import type { PhotoTaken } from '#libs/records/entry.js';
import type { RecordKind } from '#libs/records/record-types.js';
import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { attachedBytes, photosOf, saveAttachment } from '#libs/store/household/attachments.js';
import { hashOf } from '#libs/store/log/canonical.js';
import { requestHashOf } from '#libs/store/log/entry-json.js';
import { findSent } from '#libs/store/log/log.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { kindByName } from '../kinds/registry.js';
import { refuseWrongClock } from '../record/clock.js';
import { type Refusal, invalid, refused, unknown } from '../record/problem.js';
import { momentIn } from '../record/times.js';
import { loadSugarhouseContext, type WriteContext } from '../record/write-context.js';
import { encodeForStorage, type StoredImage } from './stored-image.js';

export const maxPhotosPerRecord = 12;
/** 1 GiB: about 3,000 photos, so that the single backup file stays small enough to copy. */
export const maxBytesPerHouse = 1024 * 1024 * 1024;
const maxCaptionLength = 200;

export interface PhotoAdded extends PhotoTaken {
  readonly entry: number;
  readonly outcome: 'new' | 'again';
}

/**
 * Adds a photo to a record: the image as a database row, its hash in a log entry. Refused, with nothing written, where
 * the file is no photo, the record doesn't exist, or a limit is reached.
 */
export async function addPhoto(
  book: Book,
  context: WriteContext,
  target: { readonly kind: string; readonly id: string },
  { bytes, caption }: { readonly bytes: Uint8Array; readonly caption: string },
): Promise<PhotoAdded | Refusal> {
  const photo = await readPhoto(bytes, caption);
  return 'problem' in photo ? photo : book.write((tx) => addPhotoInTransaction(tx, context, target, photo));
}

/** A photo as stored, decoded before any write begins: decoding takes a second, and there is only one writer. */
export interface ReadPhoto {
  readonly image: StoredImage;
  readonly caption: string;
}

/** Checks a photo and its caption and makes the image that is stored; nothing is written. */
export async function readPhoto(bytes: Uint8Array, caption: string): Promise<ReadPhoto | Refusal> {
  const text = caption.trim();
  if (text.length > maxCaptionLength)
    return invalid('caption', `at most ${maxCaptionLength} letters`, `${text.length} letters`);
  const image = await encodeForStorage(bytes);
  return 'problem' in image ? image : { image, caption: text };
}

/** The same inside an open write transaction, together with the record that the photo belongs to. */
export async function addPhotoInTransaction(
  tx: WriteTransaction,
  context: WriteContext,
  target: { readonly kind: string; readonly id: string },
  { image, caption: text }: ReadPhoto,
): Promise<PhotoAdded | Refusal> {
  const kind = kindByName.get(target.kind as RecordKind);
  if (!kind) return unknown('kind of record', target.kind);
  const reader = sugarhouseReader(tx.sql, context.sugarhouse);
  const requestHash = requestHashOf('photo', {
    kind: target.kind,
    id: target.id,
    caption: text,
    photo: hashOf(image.content.toString('base64')),
  });
  const key = context.key ?? `${context.author}:${randomBytes(16).toString('hex')}`;
  const before = context.key === undefined ? undefined : await findSent(reader, context.author, key);
  if (before?.photo && before.sent === requestHash)
    return { ...before.photo, entry: before.seq, outcome: 'again' as const };
  if (before) return { problem: { kind: 'key-used', entry: before.seq, by: before.by, at: before.typedAt } };
  const saved = await findRecord(reader, target.kind as RecordKind, target.id);
  if (!saved) return unknown(kind.noun, target.id);
  const house = await loadSugarhouseContext(tx.sql, context);
  const clock = await refuseWrongClock(tx.sql, context, house);
  if (clock) return clock;
  const aboveLimits = await refuseAboveLimits(reader, saved, image.content.length);
  if (aboveLimits) return aboveLimits;
  const sha256 = await saveAttachment(reader, image.content);
  const photo: PhotoTaken = {
    kind: saved.kind,
    id: saved.id,
    sha256,
    bytes: image.content.length,
    width: image.width,
    height: image.height,
    caption: text,
  };
  const at = momentIn(house.parseOptions.zone, context.now);
  const isLot = (await findLot(reader, saved.id))?.kind === saved.kind;
  const entry = await tx.append({
    format: 1,
    sugarhouse: context.sugarhouse,
    entryType: 'photo',
    by: context.by,
    happenedAt: at,
    typedAt: at,
    author: context.author,
    key,
    sent: requestHash,
    about: [...new Set([...(isLot ? [saved.id] : []), ...(saved.lot === undefined ? [] : [saved.lot])])],
    photo,
    from: context.from,
  });
  return { ...photo, entry, outcome: 'new' as const };
}

async function refuseAboveLimits(
  reader: Parameters<typeof photosOf>[0],
  { kind, id }: { readonly kind: string; readonly id: string },
  bytes: number,
): Promise<Refusal | undefined> {
  if ((await photosOf(reader, kind, id)).length >= maxPhotosPerRecord)
    return refused('photos', `${id} has ${maxPhotosPerRecord} photos, the most that one record may have.`);
  if ((await attachedBytes(reader)) + bytes > maxBytesPerHouse)
    return refused('photos', 'The photos of this book take 1 GB, the most it may hold: no more can be added.');
  return undefined;
}
