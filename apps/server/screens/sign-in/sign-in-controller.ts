import { Body, Controller, Get, Post, Query, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { endSessionInMemory } from '#libs/actions/accounts/memory-sessions.js';
import { isNoSpace } from '#libs/store/connection/no-space.js';
import { endSession } from '#libs/store/household/household-tokens.js';
import { findHouse, severalHouses } from '#libs/store/household/houses.js';
import { isClaimed } from '#libs/store/household/household.js';
import { signIn } from '#libs/actions/accounts/sign-in.js';
import { RequireRole, Public } from '../../http/access.js';
import { type HtmlPage, htmlPage, type Redirect, redirect } from '../../http/responses.js';
import { home } from '../../http/identify.js';
import { clearChosenHouse } from '../../http/house-choice.js';
import { clearSession, knownDevice, setKnownDevice, setSession } from '../../http/session-cookie.js';
import { networkOf } from '../../http/rate-limit.js';
import { type Principal, CurrentPrincipal } from '../../http/principal.js';
import { deviceName } from '../set-up/device-name.js';
import { textOf } from '../set-up/text-of.js';
import { faultLines } from '../../forms/fault-lines.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { SignInPage } from '#pages/sign-in/sign-in.js';

@Controller()
export class SignInController {
  @Get('sign-in')
  @Public()
  async form(@CurrentPrincipal() principal: Principal, @Query('back') back: unknown): Promise<HtmlPage | Redirect> {
    if (principal.kind !== 'nobody') return redirect(textOf(back) || '/');
    if (!(await isClaimed(sugarhouseReader(principal.server.book.read, home)))) return redirect('/set-up');
    return htmlPage(SignInPage, {
      back: textOf(back),
      houses: await severalHouses(principal.server.book.read),
      faults: [],
    });
  }

  @Post('sign-in')
  @Public({ costs: 4, anyBook: true })
  async signIn(
    @CurrentPrincipal() principal: Principal,
    @Body() sent: Record<string, unknown>,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<HtmlPage | Redirect> {
    const credentials = {
      initials: textOf(sent['initials']),
      password: textOf(sent['password']),
      back: textOf(sent['back']),
    };
    const house = textOf(sent['house']);
    const device = { device: deviceName(request), known: knownDevice(request), address: networkOf(request.ip) };
    const done = await signIn(
      principal.server.book,
      await houseNamedOnForm(principal, house),
      { ...credentials, ...device },
      principal.writeContext.now,
    );
    if ('problem' in done) {
      if (done.waitSeconds) void reply.header('Retry-After', done.waitSeconds);
      const formProps = {
        back: credentials.back,
        initials: credentials.initials,
        houseTyped: house,
        houses: await severalHouses(principal.server.book.read),
        faults: faultLines(done.problem),
      };
      return htmlPage(SignInPage, formProps, done.waitSeconds ? 429 : 422);
    }
    setSession(request, reply, done.token, false, done.endsAt);
    setKnownDevice(request, reply, done.known);
    return redirect(credentials.back || '/');
  }

  @Post('sign-out')
  @RequireRole('guest', { anyBook: true })
  async signOut(
    @CurrentPrincipal() principal: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<Redirect> {
    const { session } = principal;
    if (session !== undefined && !endSessionInMemory(principal.book, session))
      await principal.book
        .writeHousehold((sql) => endSession(sugarhouseReader(sql, principal.own.sugarhouse), session))
        .catch((fault: unknown) => {
          // The cookie is cleared in any case.
          if (!isNoSpace(fault)) throw fault;
        });
    clearSession(reply);
    clearChosenHouse(reply);
    return redirect('/sign-in');
  }
}

/** The sugarhouse named on the sign-in form. An unknown one is answered like a wrong password. */
const houseNamedOnForm = async (principal: Principal, typed: string): Promise<string> =>
  typed.trim() === '' ? home : ((await findHouse(principal.server.book.read, typed))?.key ?? noSuchHouse);

/** No sugarhouse has this key. */
const noSuchHouse = '-';
