import { Controller, Get, Param, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { signInByGuestLink, findValidGuestLink } from '#libs/actions/accounts/sign-in.js';
import { hashOfToken } from '#libs/actions/accounts/tokens.js';
import { GuestPage } from '#pages/guest/guest.js';
import { LinkGonePage } from '#pages/guest/link-gone.js';
import { Public } from '../../http/access.js';
import { type HtmlPage, htmlPage, type Redirect, redirect } from '../../http/responses.js';
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
    const link = await findValidGuestLink(principal.server.book.read, token, principal.writeContext.now);
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
  ): Promise<HtmlPage | Redirect> {
    const alreadyOpened = linkOpened(request, hashOfToken(token));
    if (alreadyOpened && principal.kind === 'guest') return redirect('/season');
    const session = alreadyOpened
      ? undefined
      : await signInByGuestLink(principal.server.book, token, deviceName(request), principal.writeContext.now);
    if (!session) return htmlPage(LinkGonePage, {}, 410);
    setSession(request, reply, session.token, false, session.endsAt);
    setLinkOpened(request, reply, hashOfToken(token), session.endsAt);
    // The pages a guest needs: the year, its summary and a jar to look up.
    return redirect('/season');
  }
}
