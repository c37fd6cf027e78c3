import { kindByName } from '#libs/actions/kinds/registry.js';
import { maxPhotosPerRecord } from '#libs/actions/photos/add-photo.js';
import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { photosOf } from '#libs/store/household/attachments.js';
import { findRecord } from '#libs/store/queries/lots.js';
import type { PhotosProps } from '#pages/photos/photos.js';
import { mayWrite } from '../../http/may-write.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { photoRows } from '../../text/photo-rows.js';
import { recordAddress } from '../records/record-pages.js';

/** The props of the page with a record's photos. */
export async function photosView(principal: Principal, kindName: string, id: string): Promise<PhotosProps | Refusal> {
  const kind = kindByName.get(kindName as RecordKind);
  const saved = kind && (await findRecord(readerOf(principal), kind.kind, id));
  if (!kind || !saved) return unknown(kind?.noun ?? 'record', id);
  const photos = await photosOf(readerOf(principal), kindName, id);
  return {
    noun: kind.kind === 'house' ? 'the sugarhouse' : kind.noun,
    id: kind.kind === 'house' ? '' : id,
    action: `/photos/of/${kindName}/${encodeURIComponent(id)}`,
    back: recordAddress(kind.kind, id, saved.lot),
    photos: photoRows(photos),
    mayAdd: mayWrite(principal, 'photo') && photos.length < maxPhotosPerRecord,
    maxPhotos: maxPhotosPerRecord,
    faults: [],
    caption: '',
  };
}
