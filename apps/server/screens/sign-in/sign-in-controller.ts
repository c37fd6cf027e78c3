import { Body, Controller, Get, Post, Query, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { endSession } from '#libs/store/household/household-tokens.js';
import { findHouse, severalHouses } from '#libs/store/household/houses.js';
import { isClaimed } from '#libs/store/household/household.js';
import { signIn } from '#libs/actions/accounts/sign-in.js';
import { For, Open } from '../../http/access.js';
import { type Page, page, type SeeOther, seeOther } from '../../http/responses.js';
import { home } from '../../http/identify.js';
import { readOwnHouse } from '../../http/house-choice.js';
import { clearSession, knownDevice, setKnownDevice, setSession } from '../../http/session-cookie.js';
import { network } from '../../http/rate-limit.js';
import { type Visitor, Who } from '../../http/principal.js';
import { deviceWords } from '../set-up/device-name.js';
import { textOf } from '../set-up/text-of.js';

@Controller()
export class SignInController {
  @Get('sign-in')
  @Open()
  async form(@Who() who: Visitor, @Query('back') back: unknown): Promise<Page | SeeOther> {
    if (who.kind !== 'nobody') return seeOther(textOf(back) || '/');
    if (!(await isClaimed(who.server.book.read, home))) return seeOther('/set-up');
    return page('sign-in/sign-in', { back: textOf(back), houses: await severalHouses(who.server.book.read) });
  }

  @Post('sign-in')
  @Open({ costs: 4, anyBook: true })
  async signIn(
    @Who() who: Visitor,
    @Body() sent: Record<string, unknown>,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<Page | SeeOther> {
    const told = { initials: textOf(sent['initials']), password: textOf(sent['password']), back: textOf(sent['back']) };
    const house = textOf(sent['house']);
    const device = { device: deviceWords(request), known: knownDevice(request), address: network(request.ip) };
    const done = await signIn(who.server.book, await houseMeant(who, house), { ...told, ...device }, who.desk.now);
    if ('problem' in done) {
      if (done.waitSeconds) void reply.header('Retry-After', done.waitSeconds);
      const again = {
        ...told,
        houseTyped: house,
        houses: await severalHouses(who.server.book.read),
        password: '',
        problem: done.problem,
      };
      return page('sign-in/sign-in', again, done.waitSeconds ? 429 : 422);
    }
    setSession(request, reply, done.token, false, done.endsAt);
    setKnownDevice(request, reply, done.known);
    return seeOther(told.back || '/');
  }

  @Post('sign-out')
  @For('guest', { anyBook: true })
  async signOut(@Who() who: Visitor, @Res({ passthrough: true }) reply: FastifyReply): Promise<SeeOther> {
    const { session } = who;
    if (session !== undefined) await who.book.writeHousehold((sql) => endSession(sql, who.own.sugarhouse, session));
    clearSession(reply);
    readOwnHouse(reply);
    return seeOther('/sign-in');
  }
}

/** The sugarhouse that the door was told; nobody is of one that isn't there, and that is answered like a wrong word. */
const houseMeant = async (who: Visitor, typed: string): Promise<string> =>
  typed.trim() === '' ? home : ((await findHouse(who.server.book.read, typed))?.key ?? nowhere);

/** No key of a house looks like this. */
const nowhere = '-';
