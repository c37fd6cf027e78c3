import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { z } from 'zod';
import { rights } from '#libs/actions/accounts/rights.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { addPhoto } from '#libs/actions/photos/add-photo.js';
import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { findAttachment, isPhotoOf, photosOf } from '#libs/store/household/attachments.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { RequireRole } from '../http/access.js';
import { parseWith } from '../http/parse-with.js';
import { CurrentPrincipal, type Principal, readerOf } from '../http/principal.js';
import { download, type ApiSaved, apiSaved } from '../http/responses.js';
import { Describe } from './operation.js';

const captionQuery = z.object({ caption: z.string().max(200).default('') });

const photoAnswer = z
  .object({
    entry: z.int().meta({ description: 'The entry of the record log that holds its hash' }),
    sha256: z.string().meta({ description: 'SHA-256 of the stored JPEG, in lower-case hexadecimal' }),
    width: z.int(),
    height: z.int(),
    caption: z.string(),
  })
  .meta({ id: 'Photo' });
const photosAnswer = z
  .object({ kind: z.string(), id: z.string(), photos: z.array(photoAnswer) })
  .meta({ id: 'Photos' });

@Controller('api/photos')
export class PhotosApi {
  @Get(':kind/:id')
  @Describe({ summary: 'The photos of a record: hashes and captions', answers: photosAnswer })
  async list(@CurrentPrincipal() principal: Principal, @Param('kind') kind: string, @Param('id') id: string) {
    const saved = kindByName.has(kind as RecordKind) && (await findRecord(readerOf(principal), kind as RecordKind, id));
    if (!saved) return unknown('record', `${kind}/${id}`);
    const photos = await photosOf(readerOf(principal), kind, id);
    return {
      kind,
      id,
      photos: photos.map(({ entry, sha256, width, height, caption }) => ({ entry, sha256, width, height, caption })),
    };
  }

  @Get(':sha256')
  @Describe({ summary: 'A stored photo, by its hash', answers: { media: 'image/jpeg', text: false } })
  async image(@CurrentPrincipal() principal: Principal, @Param('sha256') sha256: string) {
    const reader = readerOf(principal);
    const found = (await isPhotoOf(reader, sha256)) ? await findAttachment(reader, sha256) : 'missing';
    if (typeof found === 'string') return unknown('photo', sha256);
    return download(`photo-${sha256.slice(0, 12)}.jpg`, 'image/jpeg', async (out) => void out.end(found), true);
  }

  @Post(':kind/:id')
  @RequireRole(rights.photo, { takes: 'bytes' })
  @Describe({
    summary: 'Adds a photo (JPEG, PNG, WebP) to a record; the server rotates it upright and removes its metadata',
    query: captionQuery,
    takes: { media: 'application/octet-stream', text: false },
    answers: photoAnswer,
    writes: true,
  })
  async add(
    @CurrentPrincipal() principal: Principal,
    @Param('kind') kindName: string,
    @Param('id') id: string,
    @Query(parseWith(captionQuery)) { caption }: z.infer<typeof captionQuery>,
    @Body() bytes: unknown,
  ): Promise<ApiSaved | Refusal> {
    const kind = kindByName.get(kindName as RecordKind);
    if (!kind) return unknown('kind of record', kindName);
    const file = Buffer.isBuffer(bytes) ? bytes : Buffer.alloc(0);
    const added = await addPhoto(
      principal.book,
      principal.writeContext,
      { kind: kindName, id },
      { bytes: file, caption },
    );
    if ('problem' in added) return added;
    const { entry, sha256, width, height, outcome } = added;
    return apiSaved(`/api/photos/${sha256}`, { entry, sha256, width, height, caption: added.caption }, outcome);
  }
}
