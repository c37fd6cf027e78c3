import { Body, Controller, Get, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Problem } from '#libs/actions/record/problem.js';
import { readFields } from '#libs/actions/record/fields.js';
import { readPerson } from '#libs/actions/accounts/accounts.js';
import { placeList } from '#libs/actions/places/places.js';
import { record } from '#libs/actions/record/record.js';
import { houseFields, houses, licenceFault } from '#libs/actions/kinds/house.js';
import { claimBook, signIn } from '#libs/actions/accounts/sign-in.js';
import { isClaimed } from '#libs/store/household/household.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { Open } from '../../http/access.js';
import { type Page, page, type SeeOther, seeOther } from '../../http/responses.js';
import { home } from '../../http/identify.js';
import { isAtThisMachine } from '../../http/own-addresses.js';
import { phonesView } from '../../http/phones-view.js';
import { setKnownDevice, setSession } from '../../http/session-cookie.js';
import { network } from '../../http/rate-limit.js';
import { type Visitor, Who } from '../../http/principal.js';
import { deviceWords } from './device-name.js';
import { textOf } from './text-of.js';

/** The first visit: the one-time word, the sugarhouse, and who owns its book. */
@Controller('set-up')
export class SetUpController {
  @Get()
  @Open()
  async form(@Who() who: Visitor, @Req() request: FastifyRequest): Promise<Page | SeeOther> {
    if (await isClaimed(who.server.book.read, home)) return seeOther('/sign-in');
    // Prints a new word where the last has run out.
    who.server.firstWord.current(who.desk.now);
    // The address alone, never the word; and only to who sits at the machine, for the page is open to anybody.
    return setUpPage(who, {}, undefined, isAtThisMachine(request) ? phonesView(who.server, request) : undefined);
  }

  @Post()
  @Open({ costs: 4, anyBook: true })
  async claim(
    @Who() who: Visitor,
    @Body() sent: Record<string, unknown>,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<Page | SeeOther> {
    const { book } = who.server;
    if (await isClaimed(book.read, home)) return seeOther('/sign-in');
    const address = network(request.ip);
    const told = readSetUp(who, sent, address, (await houseOf(who)) !== undefined);
    if ('problem' in told) return setUpPage(who, sent, told.problem);
    if (told.house) {
      const kept = await record(book, { ...who.desk, by: told.initials, author: told.initials }, houses, told.house);
      if ('problem' in kept) return setUpPage(who, sent, kept.problem);
    }
    const claimed = await claimBook(book, home, told);
    if ('problem' in claimed) return setUpPage(who, sent, claimed.problem);
    who.server.firstWord.spend();
    const first = await signIn(book, home, { ...told, device: deviceWords(request), address }, who.desk.now);
    if ('problem' in first) return seeOther('/sign-in');
    setSession(request, reply, first.token, false, first.endsAt);
    setKnownDevice(request, reply, first.known);
    return seeOther('/');
  }
}

interface SetUp {
  readonly initials: string;
  readonly name: string;
  readonly password: string;
  /** Absent where the command line has set the house up already. */
  readonly house: Record<string, unknown> | undefined;
}

/** Everything is read before anything is written, so that all that is wrong is told at once. */
function readSetUp(
  who: Visitor,
  sent: Record<string, unknown>,
  address: string,
  isHouseKept: boolean,
): SetUp | { problem: Problem } {
  const { word, initials, person, password, ...rest } = sent;
  const told = { initials: textOf(initials), name: textOf(person), password: textOf(password) };
  const house = isHouseKept
    ? undefined
    : Object.fromEntries(Object.entries(rest).filter(([name]) => Object.hasOwn(houseFields, name)));
  const owner = readPerson({ ...told, role: 'owner' });
  const manner = { zone: who.desk.zone, volumes: { bareGallons: 'US' as const }, now: who.desk.now };
  const read = house && readFields(houseFields, house, manner);
  const faults = [
    ...(read && 'faults' in read ? read.faults : []),
    ...(read && 'body' in read ? [licenceFault(read.body)].filter((fault) => fault !== undefined) : []),
    ...('problem' in owner && owner.problem.kind === 'invalid' ? owner.problem.faults : []),
  ];
  // The word is tried last: a slip elsewhere should not use up a try.
  const answer = faults.length === 0 ? who.server.firstWord.answer(textOf(word), address, who.desk.now) : 'fits';
  if (answer === 'wrong')
    faults.push({ field: 'word', expected: 'the word that the server printed when it started', got: 'another' });
  if (answer === 'too often')
    faults.push({ field: 'word', expected: 'no more tries from here for an hour', got: 'ten wrong ones' });
  return faults.length > 0 ? { problem: { kind: 'invalid', faults } } : { ...told, house };
}

const houseOf = (who: Visitor) => findRecord(who.server.book.read, home, 'house', 'house');

async function setUpPage(
  who: Visitor,
  sent: Record<string, unknown>,
  problem?: Problem,
  phones?: ReturnType<typeof phonesView>,
): Promise<Page> {
  const typed = { ...sent, password: '', word: textOf(sent['word']) };
  const asked = (await houseOf(who)) ? {} : houseFields;
  const told = { fields: asked, typed, problem, phones, places: placeList(), zone: who.server.settings.zone };
  return page('set-up/set-up', told, problem ? 422 : 200);
}
