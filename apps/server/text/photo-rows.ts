import type { Photo } from '#libs/store/household/attachments.js';
import type { PhotoRow } from '#pages/photos/photo-list.js';
import { clock, dayText } from './times.js';

/** Photos as pages draw them, oldest first. */
export const photoRows = (photos: readonly Photo[]): PhotoRow[] =>
  photos.map(({ entry, sha256, caption, by, at, width, height }) => ({
    entry,
    href: `/photos/${sha256}`,
    small: `/photos/${sha256}/small`,
    caption,
    beside: `${by}, ${dayText(at)} ${clock(at)}`,
    // The width a list shows it at, so that the layout doesn't shift while it loads.
    width: Math.min(320, width),
    height: Math.round((height * Math.min(320, width)) / width),
  }));
