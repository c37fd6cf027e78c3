import { createHash } from 'node:crypto';
import type { StoryPhoto } from '#libs/labels/content/story-text.js';
import type { Book } from '#libs/store/book.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findNote } from '#libs/store/household/household.js';
import { encodeThumbnail, encodeForStorage } from '../photos/stored-image.js';
import { invalid, type Refusal } from '../record/problem.js';
import type { WriteContext } from '../record/write-context.js';
import { readSetting, saveSettings } from './house-setting.js';

/** The photo's details without its bytes; a household setting, not part of the log. */
export interface StoredStoryPhoto extends StoryPhoto {
  readonly by: string;
  readonly at: string;
}

const detailsSetting = 'story-photo';
const imageSetting = 'story-photo-image';
/** Wide enough for a phone held upright, about 100 KB. */
const widthPx = 900;
const maxLetters = 200;

/**
 * Saves the one photo for the story on jars' public pages, drawn anew as JPEG without place, time or camera. Refused
 * where the file is no photo or has no description for screen readers.
 */
export async function saveStoryPhoto(
  book: Book,
  context: WriteContext,
  { bytes, shows }: { readonly bytes: Uint8Array; readonly shows: string },
): Promise<StoredStoryPhoto | Refusal> {
  const text = shows.trim();
  if (text === '' || text.length > maxLetters)
    return invalid('shows', `what the photo shows, in at most ${maxLetters} letters`, text ? 'more' : 'nothing');
  const image = await encodeForStorage(bytes);
  if ('problem' in image) return image;
  const jpeg = await encodeThumbnail(image.content, widthPx);
  const scale = Math.min(1, widthPx / image.width);
  const stored: StoredStoryPhoto = {
    sha256: createHash('sha256').update(jpeg).digest('hex'),
    widthPx: Math.round(image.width * scale),
    heightPx: Math.round(image.height * scale),
    shows: text,
    by: context.by,
    at: context.now.toISOString(),
  };
  await saveSettings(book, context, {
    [imageSetting]: jpeg.toString('base64'),
    [detailsSetting]: JSON.stringify(stored),
  });
  return stored;
}

/** Removes the photo of the public jar page. */
export const removeStoryPhoto = (book: Book, context: Pick<WriteContext, 'sugarhouse'>): Promise<void> =>
  saveSettings(book, context, { [detailsSetting]: '', [imageSetting]: '' });

/** The photo's description for the public jar page, without its bytes; undefined where there is none. */
export const findStoryPhoto = (reader: SugarhouseReader): Promise<StoredStoryPhoto | undefined> =>
  readSetting(reader, detailsSetting);

/** The JPEG; undefined where none is stored. */
export async function storyPhotoImage(reader: SugarhouseReader): Promise<Buffer | undefined> {
  const text = await findNote(reader, imageSetting);
  return text ? Buffer.from(text, 'base64') : undefined;
}
