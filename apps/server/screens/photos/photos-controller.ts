import { Controller, Get, Param, Post, Req } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { rights } from '#libs/actions/accounts/rights.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { addPhoto } from '#libs/actions/photos/add-photo.js';
import { encodeThumbnail } from '#libs/actions/photos/stored-image.js';
import { sentencesOf, unknown } from '#libs/actions/record/problem.js';
import type { RecordKind } from '#libs/records/record-types.js';
import { findAttachment, isPhotoOf } from '#libs/store/household/attachments.js';
import { PhotosPage } from '#pages/photos/photos.js';
import { RequireRole } from '../../http/access.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';
import { download, htmlPage, redirect, pageOr } from '../../http/responses.js';
import { readUpload } from '../files/read-upload.js';
import { photosView } from './photos-view.js';

/** Photos of a record: a label, a seal, a gauge. Served only to people signed in to the open house. */
@Controller('photos')
export class PhotosController {
  @Get('of/:kind/:id')
  async of(@CurrentPrincipal() principal: Principal, @Param('kind') kind: string, @Param('id') id: string) {
    return pageOr(PhotosPage, await photosView(principal, kind, id));
  }

  @Post('of/:kind/:id')
  @RequireRole(rights.photo, { takes: 'file' })
  async add(
    @CurrentPrincipal() principal: Principal,
    @Param('kind') kindName: string,
    @Param('id') id: string,
    @Req() request: FastifyRequest,
  ) {
    const kind = kindByName.get(kindName as RecordKind);
    if (!kind) return unknown('kind of record', kindName);
    const { bytes, fields } = await readUpload(request);
    const once = fields['_once'];
    const context = { ...principal.writeContext, ...(once ? { key: `${principal.kind}:${once}` } : {}) };
    const added = await addPhoto(
      principal.book,
      context,
      { kind: kindName, id },
      { bytes, caption: fields['caption'] ?? '' },
    );
    if (!('problem' in added)) return redirect(`/photos/of/${kindName}/${encodeURIComponent(id)}`, ['Photo saved.']);
    const view = await photosView(principal, kindName, id);
    if ('problem' in view || added.problem.kind === 'unknown') return added;
    const status = added.problem.kind === 'invalid' ? 422 : 409;
    return htmlPage(
      PhotosPage,
      { ...view, faults: sentencesOf(added.problem), caption: fields['caption'] ?? '' },
      status,
    );
  }

  @Get(':sha256')
  image(@CurrentPrincipal() principal: Principal, @Param('sha256') sha256: string) {
    return this.serve(principal, sha256, async (content) => content);
  }

  @Get(':sha256/small')
  small(@CurrentPrincipal() principal: Principal, @Param('sha256') sha256: string) {
    return this.serve(principal, sha256, encodeThumbnail);
  }

  private async serve(principal: Principal, sha256: string, draw: (content: Buffer) => Promise<Buffer>) {
    const reader = readerOf(principal);
    const found = (await isPhotoOf(reader, sha256)) ? await findAttachment(reader, sha256) : 'missing';
    if (typeof found === 'string') return unknown('photo', sha256.slice(0, 12));
    const content = await draw(found);
    return download(`photo-${sha256.slice(0, 12)}.jpg`, 'image/jpeg', async (out) => void out.end(content), true);
  }
}
