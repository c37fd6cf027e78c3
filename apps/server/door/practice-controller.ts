import { Controller, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { addPerson } from '#libs/actions/household-deeds.js';
import { enterAs } from '#libs/actions/sign-in.js';
import { isClaimed } from '#libs/records/household.js';
import { Open } from '../web/access.js';
import { type SeeOther, seeOther } from '../web/answers.js';
import { home } from '../web/identify.js';
import { setSession } from '../web/session-cookie.js';
import { type Visitor, Who } from '../web/visitor.js';
import { deviceWords } from './device-words.js';

/** One button opens the practice book: a folder, a log and sessions of its own, PRACTICE on every page. */
@Controller('practice')
export class PracticeController {
  @Post()
  @Open({ costs: 10, anyBook: true })
  async open(
    @Who() who: Visitor,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SeeOther> {
    const { server } = who;
    // Once the book has its owner, practising is for those who may come in.
    if (who.kind === 'nobody' && (await isClaimed(server.book.read, home))) return seeOther('/sign-in');
    const practice = await server.practice();
    await addPerson(practice, home, { initials: 'WE', name: 'Wren Ellery', role: 'owner' });
    const entered = await enterAs(practice, home, { initials: 'WE', device: deviceWords(request) }, who.desk.now);
    setSession(request, reply, entered.token, true, entered.endsAt);
    return seeOther('/');
  }
}
