import { randomBytes } from 'node:crypto';
import type { PhotoTaken } from '#libs/records/entry.js';
import type { RecordKind } from '#libs/records/record-types.js';
import type { Book } from '#libs/store/book.js';
import type { WriteTransaction } from '#libs/store/connection/write-transaction.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { attachedBytes, photosOf, saveAttachment } from '#libs/store/household/attachments.js';
import { canonicalJson, hashOf } from '#libs/store/log/canonical.js';
import { findSent } from '#libs/store/log/log.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { kindByName } from '../kinds/registry.js';
import { clockProblem } from '../record/clock.js';
import { type Refusal, invalid, refused, unknown } from '../record/problem.js';
import { momentIn } from '../record/times.js';
import { loadSugarhouseContext, type WriteContext } from '../record/write-context.js';
import { storedImage, type StoredImage } from './stored-image.js';

export const mostPhotosOfRecord = 12;
/** 1 GiB: about 3,000 photos, so that the single backup file stays small enough to copy. */
export const mostBytesOfHouse = 1024 * 1024 * 1024;
const longestCaption = 200;

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
  of: { readonly kind: string; readonly id: string },
  { bytes, caption }: { readonly bytes: Uint8Array; readonly caption: string },
): Promise<PhotoAdded | Refusal> {
  const photo = await readPhoto(bytes, caption);
  return 'problem' in photo ? photo : book.write((tx) => addPhotoOn(tx, context, of, photo));
}

/** A photo as stored, decoded before any write begins: decoding takes a second, and there is only one writer. */
export interface ReadPhoto {
  readonly image: StoredImage;
  readonly caption: string;
}

/** Checks a photo and its caption and makes the image that is stored; nothing is written. */
export async function readPhoto(bytes: Uint8Array, caption: string): Promise<ReadPhoto | Refusal> {
  const text = caption.trim();
  if (text.length > longestCaption)
    return invalid('caption', `at most ${longestCaption} letters`, `${text.length} letters`);
  const image = await storedImage(bytes);
  return 'problem' in image ? image : { image, caption: text };
}

/** The same inside an open write transaction, together with the record that the photo belongs to. */
export async function addPhotoOn(
  tx: WriteTransaction,
  context: WriteContext,
  of: { readonly kind: string; readonly id: string },
  { image, caption: text }: ReadPhoto,
): Promise<PhotoAdded | Refusal> {
  const kind = kindByName.get(of.kind as RecordKind);
  if (!kind) return unknown('kind of record', of.kind);
  const reader = sugarhouseReader(tx.sql, context.sugarhouse);
  const sent = hashOf(
    canonicalJson({
      deed: 'photo',
      kind: of.kind,
      id: of.id,
      caption: text,
      photo: hashOf(image.content.toString('base64')),
    }),
  );
  const key = context.key ?? `${context.author}:${randomBytes(16).toString('hex')}`;
  const before = context.key === undefined ? undefined : await findSent(reader, context.author, key);
  if (before?.photo && before.sent === sent) return { ...before.photo, entry: before.seq, outcome: 'again' as const };
  if (before) return { problem: { kind: 'key-used', entry: before.seq, by: before.by, at: before.typedAt } };
  const saved = await findRecord(reader, of.kind as RecordKind, of.id);
  if (!saved) return unknown(kind.noun, of.id);
  const house = await loadSugarhouseContext(tx.sql, context);
  const clock = await clockProblem(tx.sql, context, house);
  if (clock) return clock;
  const full = await capReached(reader, saved, image.content.length);
  if (full) return full;
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
    sent,
    about: [...new Set([...(isLot ? [saved.id] : []), ...(saved.lot === undefined ? [] : [saved.lot])])],
    photo,
    from: context.from,
  });
  return { ...photo, entry, outcome: 'new' as const };
}

async function capReached(
  reader: Parameters<typeof photosOf>[0],
  { kind, id }: { readonly kind: string; readonly id: string },
  bytes: number,
): Promise<Refusal | undefined> {
  if ((await photosOf(reader, kind, id)).length >= mostPhotosOfRecord)
    return refused('photos', `${id} has ${mostPhotosOfRecord} photos, the most that one record may have.`);
  if ((await attachedBytes(reader)) + bytes > mostBytesOfHouse)
    return refused('photos', 'The photos of this book take 1 GB, the most it may hold: no more can be added.');
  return undefined;
}
