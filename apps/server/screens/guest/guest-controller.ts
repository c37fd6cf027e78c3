import { Controller, Get, Param, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { enterByLink, guestLinkStands } from '#libs/actions/accounts/sign-in.js';
import { hashOfToken } from '#libs/actions/accounts/tokens.js';
import { Open } from '../../http/access.js';
import { type Page, page, type SeeOther, seeOther } from '../../http/responses.js';
import { linkOpened, setLinkOpened, setSession } from '../../http/session-cookie.js';
import { type Visitor, Who } from '../../http/principal.js';
import { deviceWords } from '../set-up/device-name.js';

/** An inspector's link. Opening it changes nothing; the button does, once on each device. */
@Controller('guest')
export class GuestController {
  @Get(':token')
  @Open({ costs: 4 })
  async show(@Who() who: Visitor, @Param('token') token: string, @Req() request: FastifyRequest): Promise<Page> {
    const link = await guestLinkStands(who.server.book.read, token, who.desk.now);
    if (!link || linkOpened(request, hashOfToken(token))) return page('guest/link-gone', {}, 410);
    return page('guest/guest', { token, name: link.name, endsAt: link.endsAt });
  }

  @Post(':token')
  @Open({ costs: 4, anyBook: true })
  async enter(
    @Who() who: Visitor,
    @Param('token') token: string,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<Page | SeeOther> {
    const opened = linkOpened(request, hashOfToken(token));
    if (opened && who.kind === 'guest') return seeOther('/season');
    const entered = opened ? undefined : await enterByLink(who.server.book, token, deviceWords(request), who.desk.now);
    if (!entered) return page('guest/link-gone', {}, 410);
    setSession(request, reply, entered.token, false, entered.endsAt);
    setLinkOpened(request, reply, hashOfToken(token), entered.endsAt);
    // What a guest came for: the year, its summary and a jar to look up.
    return seeOther('/season');
  }
}
