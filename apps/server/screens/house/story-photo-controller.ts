import { Controller, Get, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { rights } from '#libs/actions/accounts/rights.js';
import { findStoryPhoto, removeStoryPhoto, saveStoryPhoto, storyPhotoImage } from '#libs/actions/labels/story-photo.js';
import { type Problem, sentencesOf, unknown } from '#libs/actions/record/problem.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { StoryPhotoPage } from '#pages/house/story-photo.js';
import { statusFor } from '../../forms/form-view.js';
import { RequireRole } from '../../http/access.js';
import { CurrentPrincipal, type Principal, readerOf } from '../../http/principal.js';
import { type HtmlPage, htmlPage, redirect } from '../../http/responses.js';
import { readUpload } from '../files/read-upload.js';

/** The photo of the story on jars' public pages: shown, set, removed. A household setting, not part of the record. */
@Controller('house')
export class StoryPhotoController {
  @Get('story-photo')
  show(@CurrentPrincipal() principal: Principal) {
    return photoPage(principal);
  }

  @Get('story-photo.jpg')
  async picture(@CurrentPrincipal() principal: Principal, @Res({ passthrough: true }) reply: FastifyReply) {
    const image = await storyPhotoImage(readerOf(principal));
    if (!image) return unknown('photo', 'story-photo.jpg');
    void reply.type('image/jpeg');
    return image;
  }

  @Post('story-photo')
  @RequireRole(rights.house, { takes: 'file' })
  async save(@CurrentPrincipal() principal: Principal, @Req() request: FastifyRequest) {
    const { bytes, fields } = await readUpload(request);
    const shows = fields['shows'] ?? '';
    const saved = await saveStoryPhoto(principal.book, principal.writeContext, { bytes, shows });
    if ('problem' in saved) return photoPage(principal, saved.problem, shows);
    return redirect('/house/story-photo', ['Saved: jars’ public pages show it with their story.']);
  }

  @Post('story-photo/remove')
  @RequireRole(rights.house)
  async remove(@CurrentPrincipal() principal: Principal) {
    await removeStoryPhoto(principal.book, principal.writeContext);
    return redirect('/house/story-photo', ['Removed: the jar’s story is text only.']);
  }
}

async function photoPage(principal: Principal, problem?: Problem, shows = ''): Promise<HtmlPage> {
  const reader = readerOf(principal);
  const isShown = (await findRecord(reader, 'house', 'house'))?.body.jarStory === 'yes';
  const faults = problem ? sentencesOf(problem) : [];
  const props = { stored: await findStoryPhoto(reader), isShown, shows, faults };
  return htmlPage(StoryPhotoPage, props, problem ? statusFor(problem) : 200);
}
