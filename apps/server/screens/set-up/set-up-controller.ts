import { Body, Controller, Get, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Fault, Problem } from '#libs/actions/record/problem.js';
import { readFields } from '#libs/actions/record/read-fields.js';
import { readPerson } from '#libs/actions/accounts/accounts.js';
import { placeChoices, zoneChoices } from '../../text/place-choices.js';
import { record } from '#libs/actions/record/record.js';
import { houseFields, houses, licenceFault } from '#libs/actions/kinds/house.js';
import { claimBook, signIn } from '#libs/actions/accounts/sign-in.js';
import { isClaimed } from '#libs/store/household/household.js';
import { findRecord } from '#libs/store/queries/lots.js';
import { Public } from '../../http/access.js';
import { type HtmlPage, htmlPage, type Redirect, redirect } from '../../http/responses.js';
import { home } from '../../http/identify.js';
import { isAtThisMachine } from '../../http/own-addresses.js';
import { phonesView } from '../../http/phones-view.js';
import { setKnownDevice, setSession } from '../../http/session-cookie.js';
import { networkOf } from '../../http/rate-limit.js';
import { type Principal, CurrentPrincipal } from '../../http/principal.js';
import { usualMeasures } from '#libs/actions/places/usual-measures.js';
import { faultLines } from '../../forms/fault-lines.js';
import { deviceName } from './device-name.js';
import { textOf } from './text-of.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { SetUpPage } from '#pages/set-up/set-up.js';

/** The first visit: the setup code, the sugarhouse, and who owns its book. */
@Controller('set-up')
export class SetUpController {
  @Get()
  @Public()
  async form(@CurrentPrincipal() principal: Principal, @Req() request: FastifyRequest): Promise<HtmlPage | Redirect> {
    if (await isClaimed(sugarhouseReader(principal.server.book.read, home))) return redirect('/sign-in');
    // Prints a new code where the last has expired.
    principal.server.setupCode.current(principal.writeContext.now);
    // The address only, never the code; and only at the machine itself, since the page is public.
    return setUpPage(
      principal,
      {},
      undefined,
      isAtThisMachine(request) ? phonesView(principal.server, request) : undefined,
    );
  }

  /** The first of the page's two steps: checked and not written, so that nothing is left half set up. */
  @Post('sugarhouse')
  @Public({ costs: 4, anyBook: true })
  async sugarhouse(
    @CurrentPrincipal() principal: Principal,
    @Body() sent: Record<string, unknown>,
    @Req() request: FastifyRequest,
  ): Promise<HtmlPage | Redirect> {
    if (await isClaimed(sugarhouseReader(principal.server.book.read, home))) return redirect('/sign-in');
    const faults = sugarhouseFaults(
      principal,
      sent,
      networkOf(request.ip),
      (await findHouseRecord(principal)) !== undefined,
    );
    return faults.length > 0
      ? setUpPage(principal, sent, { kind: 'invalid', faults })
      : setUpPage(principal, sent, undefined, undefined, 'owner');
  }

  @Post()
  @Public({ costs: 4, anyBook: true })
  async claim(
    @CurrentPrincipal() principal: Principal,
    @Body() sent: Record<string, unknown>,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<HtmlPage | Redirect> {
    const { book } = principal.server;
    if (await isClaimed(sugarhouseReader(book.read, home))) return redirect('/sign-in');
    const address = networkOf(request.ip);
    const setUp = parseSetUp(principal, sent, address, (await findHouseRecord(principal)) !== undefined);
    if ('problem' in setUp) return setUpPage(principal, sent, setUp.problem);
    if (setUp.house) {
      const saved = await record(
        book,
        { ...principal.writeContext, by: setUp.initials, author: setUp.initials },
        houses,
        setUp.house,
      );
      if ('problem' in saved) return setUpPage(principal, sent, saved.problem);
    }
    const claimed = await claimBook(book, home, setUp);
    if ('problem' in claimed) return setUpPage(principal, sent, claimed.problem);
    principal.server.setupCode.invalidate();
    const session = await signIn(
      book,
      home,
      { ...setUp, device: deviceName(request), address },
      principal.writeContext.now,
    );
    if ('problem' in session) return redirect('/sign-in');
    setSession(request, reply, session.token, false, session.endsAt);
    setKnownDevice(request, reply, session.known);
    return redirect('/');
  }
}

interface SetUp {
  readonly initials: string;
  readonly name: string;
  readonly password: string;
  /** Absent where the command line has set the house up already. */
  readonly house: Record<string, unknown> | undefined;
}

/** Everything is checked before anything is written, so that all faults are shown at once. */
function parseSetUp(
  principal: Principal,
  sent: Record<string, unknown>,
  address: string,
  hasHouse: boolean,
): SetUp | { problem: Problem } {
  const { word, initials, person, password, ...rest } = sent;
  const account = { initials: textOf(initials), name: textOf(person), password: textOf(password) };
  const house = hasHouse ? undefined : pickHouseFields(rest);
  const owner = readPerson({ ...account, role: 'owner' });
  const faults = [
    ...(house ? houseFaults(principal, house) : []),
    ...('problem' in owner && owner.problem.kind === 'invalid' ? owner.problem.faults : []),
  ];
  // The code is checked last, so that a fault elsewhere uses up no attempt.
  if (faults.length === 0) faults.push(...codeFaults(principal, textOf(word), address));
  return faults.length > 0 ? { problem: { kind: 'invalid', faults } } : { ...account, house };
}

/** What is wrong with the first step: the sugarhouse and the code from the server. */
function sugarhouseFaults(
  principal: Principal,
  sent: Record<string, unknown>,
  address: string,
  hasHouse: boolean,
): Fault[] {
  const faults = hasHouse ? [] : houseFaults(principal, pickHouseFields(sent));
  return faults.length > 0 ? faults : codeFaults(principal, textOf(sent['word']), address);
}

/** The boxes of the sugarhouse; measures that were not chosen are those of its country. */
const pickHouseFields = (sent: Record<string, unknown>): Record<string, unknown> => ({
  ...usualMeasures(textOf(sent['place'])),
  ...Object.fromEntries(
    Object.entries(sent).filter(
      ([name, value]) => Object.hasOwn(houseFields, name) && !(measureNames.has(name) && textOf(value) === ''),
    ),
  ),
});
const measureNames = new Set(['temperatures', 'volumes']);

function houseFaults(principal: Principal, house: Record<string, unknown>): Fault[] {
  const options = {
    zone: principal.writeContext.zone,
    volumes: { bareGallons: 'US' as const },
    now: principal.writeContext.now,
  };
  const read = readFields(houseFields, house, options);
  if ('faults' in read) return read.faults;
  const licence = licenceFault(read.body);
  return licence ? [licence] : [];
}

function codeFaults(principal: Principal, word: string, address: string): Fault[] {
  const answer = principal.server.setupCode.check(word, address, principal.writeContext.now);
  if (answer === 'wrong')
    return [
      { field: 'word', expected: 'the setup code that the server printed when it started', got: 'a different code' },
    ];
  if (answer === 'too often')
    return [{ field: 'word', expected: 'a wait of one hour before the next try', got: 'ten wrong codes' }];
  return [];
}

const findHouseRecord = (principal: Principal) =>
  findRecord(sugarhouseReader(principal.server.book.read, home), 'house', 'house');

type Step = 'sugarhouse' | 'owner';

/** The step with the first invalid box; what a script left out of the second is asked for there. */
const stepWithFault = (problem: Problem | undefined): Step =>
  problem?.kind === 'invalid' && problem.faults.every(({ field }) => ownerFields.has(field)) ? 'owner' : 'sugarhouse';
const boxLabels = {
  ...Object.fromEntries(Object.entries(houseFields).map(([name, { label }]) => [name, label])),
  word: 'Setup code',
  initials: 'Your initials',
};
const ownerFields = new Set(['initials', 'role', 'password']);

async function setUpPage(
  principal: Principal,
  sent: Record<string, unknown>,
  problem?: Problem,
  phones?: ReturnType<typeof phonesView>,
  step: Step = stepWithFault(problem),
): Promise<HtmlPage> {
  const typed = Object.fromEntries(Object.entries(sent).map(([name, value]) => [name, textOf(value)]));
  const zone = textOf(sent['zone']) || principal.server.settings.zone;
  const view = {
    fields: (await findHouseRecord(principal)) ? undefined : houseFields,
    typed,
    faults: faultLines(problem, boxLabels),
    phones,
    step,
    places: placeChoices(textOf(sent['place'])),
    zone: principal.server.settings.zone,
    zones: zoneChoices(zone),
  };
  return htmlPage(SetUpPage, view, problem ? 422 : 200);
}
