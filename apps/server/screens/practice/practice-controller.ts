import { Controller, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { addPerson } from '#libs/actions/accounts/accounts.js';
import { enterAs } from '#libs/actions/accounts/sign-in.js';
import { isClaimed } from '#libs/store/household/household.js';
import { Open } from '../../http/access.js';
import { type Page, page, type SeeOther, seeOther } from '../../http/responses.js';
import { home } from '../../http/identify.js';
import { plainDetails } from '../../http/problem-details.js';
import { setSession } from '../../http/session-cookie.js';
import { type Visitor, Who } from '../../http/principal.js';
import { network } from '../../http/rate-limit.js';
import { deviceWords } from '../set-up/device-name.js';
import { mayPractise } from './practice-before-set-up.js';

/** One button opens the practice book: a folder, a log and sessions of its own, PRACTICE on every page. */
@Controller('practice')
export class PracticeController {
  @Post()
  @Open({ costs: 10, anyBook: true })
  async open(
    @Who() who: Visitor,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<Page | SeeOther> {
    const { server } = who;
    // Once the book has its owner, practising is for those who may come in.
    const claimed = await isClaimed(server.book.read, home);
    if (who.kind === 'nobody' && claimed) return seeOther('/sign-in');
    if (!claimed && !mayPractise(server, network(request.ip), who.desk.now)) {
      const details = plainDetails(429, 'Somebody else is practising', 'Set the book up, or come again in an hour.');
      return page('problems/problem', { details }, 429);
    }
    const practice = await server.practice();
    await addPerson(practice, home, { initials: 'WE', name: 'Wren Ellery', role: 'owner' });
    const entered = await enterAs(practice, home, { initials: 'WE', device: deviceWords(request) }, who.desk.now);
    setSession(request, reply, entered.token, true, entered.endsAt);
    return seeOther('/');
  }
}
