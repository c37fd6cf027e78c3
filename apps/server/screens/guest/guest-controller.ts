import { Controller, Get, Param, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { enterByLink, isGuestLinkValid } from '#libs/actions/accounts/sign-in.js';
import { hashOfToken } from '#libs/actions/accounts/tokens.js';
import { GuestPage } from '#pages/guest/guest.js';
import { LinkGonePage } from '#pages/guest/link-gone.js';
import { Public } from '../../http/access.js';
import { type HtmlPage, htmlPage, type SeeOther, seeOther } from '../../http/responses.js';
import { linkOpened, setLinkOpened, setSession } from '../../http/session-cookie.js';
import { type Principal, CurrentPrincipal } from '../../http/principal.js';
import { deviceName } from '../set-up/device-name.js';

/** An inspector's link. Opening it changes nothing; its button signs in, once on each device. */
@Controller('guest')
export class GuestController {
  @Get(':token')
  @Public({ costs: 4 })
  async show(
    @CurrentPrincipal() principal: Principal,
    @Param('token') token: string,
    @Req() request: FastifyRequest,
  ): Promise<HtmlPage> {
    const link = await isGuestLinkValid(principal.server.book.read, token, principal.writeContext.now);
    if (!link || linkOpened(request, hashOfToken(token))) return htmlPage(LinkGonePage, {}, 410);
    return htmlPage(GuestPage, { token, name: link.name, endsAt: link.endsAt });
  }

  @Post(':token')
  @Public({ costs: 4, anyBook: true })
  async enter(
    @CurrentPrincipal() principal: Principal,
    @Param('token') token: string,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<HtmlPage | SeeOther> {
    const opened = linkOpened(request, hashOfToken(token));
    if (opened && principal.kind === 'guest') return seeOther('/season');
    const entered = opened
      ? undefined
      : await enterByLink(principal.server.book, token, deviceName(request), principal.writeContext.now);
    if (!entered) return htmlPage(LinkGonePage, {}, 410);
    setSession(request, reply, entered.token, false, entered.endsAt);
    setLinkOpened(request, reply, hashOfToken(token), entered.endsAt);
    // The pages a guest needs: the year, its summary and a jar to look up.
    return seeOther('/season');
  }
}
