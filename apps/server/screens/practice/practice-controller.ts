import { Controller, ForbiddenException, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { startSession } from '#libs/actions/accounts/sign-in.js';
import { isClaimed } from '#libs/store/household/household.js';
import { isAllowed, Public } from '../../http/access.js';
import { type HtmlPage, type Redirect, redirect } from '../../http/responses.js';
import { home } from '../../http/identify.js';
import { plainDetails } from '../../http/problem-details.js';
import { problemPage } from '../../http/problem-page.js';
import { setSession } from '../../http/session-cookie.js';
import { type Principal, CurrentPrincipal } from '../../http/principal.js';
import { networkOf } from '../../http/rate-limit.js';
import { deviceName } from '../set-up/device-name.js';
import { mayPractise } from './practice-before-set-up.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** One button opens the practice book: a folder, a log and sessions of its own, PRACTICE on every page. */
@Controller('practice')
export class PracticeController {
  @Post()
  @Public({ costs: 10, anyBook: true })
  async open(
    @CurrentPrincipal() principal: Principal,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<HtmlPage | Redirect> {
    const { server } = principal;
    // Once the book has an owner, practising needs signing in.
    const claimed = await isClaimed(sugarhouseReader(server.book.read, home));
    if (principal.kind === 'nobody' && claimed) return redirect('/sign-in');
    // Opening it writes to the disk, and makes whoever opened it the owner of the practice book.
    if (claimed && !isAllowed(principal.own.role, 'helper')) throw new ForbiddenException();
    if (!claimed && !mayPractise(server, networkOf(request.ip), principal.writeContext.now)) {
      const details = plainDetails(
        429,
        'Somebody else is practising',
        'Set up your record book, or try again in an hour.',
      );
      return problemPage(details, request.method);
    }
    const practice = await server.practice();
    await addPerson(practice, home, { initials: 'WE', name: 'Wren Ellery', role: 'owner' });
    const session = await startSession(
      practice,
      home,
      { initials: 'WE', device: deviceName(request) },
      principal.writeContext.now,
    );
    setSession(request, reply, session.token, true, session.endsAt);
    return redirect('/');
  }
}
