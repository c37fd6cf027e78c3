import { Controller, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { addPerson } from '#libs/actions/household-deeds.js';
import { enterAs } from '#libs/actions/sign-in.js';
import { isClaimed } from '#libs/records/household.js';
import { Open } from '../web/access.js';
import { type Page, page, type SeeOther, seeOther } from '../web/answers.js';
import { home } from '../web/identify.js';
import { plainDetails } from '../web/problem-details.js';
import { setSession } from '../web/session-cookie.js';
import { type Visitor, Who } from '../web/visitor.js';
import { network } from '../web/visits.js';
import { deviceWords } from './device-words.js';
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
      return page('problem', { details }, 429);
    }
    const practice = await server.practice();
    await addPerson(practice, home, { initials: 'WE', name: 'Wren Ellery', role: 'owner' });
    const entered = await enterAs(practice, home, { initials: 'WE', device: deviceWords(request) }, who.desk.now);
    setSession(request, reply, entered.token, true, entered.endsAt);
    return seeOther('/');
  }
}
