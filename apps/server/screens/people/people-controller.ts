import { Body, Controller, Get, Post, Req } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { addKey, addPerson, changePassword, endKey, endPerson } from '#libs/actions/accounts/accounts.js';
import type { Problem, Refusal } from '#libs/actions/record/problem.js';
import { makeGuestLink } from '#libs/actions/accounts/sign-in.js';
import { endGuestLink, endSession } from '#libs/store/household/household-tokens.js';
import { addressSymbol } from '#libs/labels/symbol/address-symbol.js';
import { textOf } from '../set-up/text-of.js';
import { For } from '../../http/access.js';
import { addressForOthers } from '../../http/own-addresses.js';
import { type Page, type SeeOther, seeOther } from '../../http/responses.js';
import { type Visitor, Who } from '../../http/principal.js';
import { peoplePage } from './people-page.js';

type Posted = Record<string, unknown>;

/** Who may come in: people, keys for scripts, links for guests, and where somebody is signed in. The owner's alone. */
@Controller('people')
export class PeopleController {
  @Get()
  @For('owner')
  show(@Who() who: Visitor): Promise<Page> {
    return peoplePage(who);
  }

  @Post()
  @For('owner')
  async add(@Who() who: Visitor, @Body() sent: Posted): Promise<Page | SeeOther> {
    const [initials, name, role, password] = ['initials', 'name', 'role', 'password'].map((each) => textOf(sent[each]));
    const told = { initials: initials ?? '', name, role: role ?? '', ...(password ? { password } : {}) };
    return shownOr(
      who,
      await addPerson(who.book, who.desk.sugarhouse, told),
      'person',
      sent,
      `${told.initials} is in the book.`,
    );
  }

  @Post('password')
  @For('owner')
  async setPassword(@Who() who: Visitor, @Body() sent: Posted): Promise<Page | SeeOther> {
    const told = { initials: textOf(sent['initials']), password: textOf(sent['password']) };
    return shownOr(
      who,
      await changePassword(who.book, who.desk.sugarhouse, told),
      'person',
      sent,
      `${told.initials} has a new password.`,
    );
  }

  @Post('end')
  @For('owner')
  async end(@Who() who: Visitor, @Body() sent: Posted): Promise<Page | SeeOther> {
    const initials = textOf(sent['initials']);
    const done = await endPerson(who.book, who.desk.sugarhouse, initials, who.desk.now);
    return shownOr(who, done, 'person', sent, `${initials} can no longer sign in. What they wrote stays.`);
  }

  @Post('keys')
  @For('owner')
  async addKey(@Who() who: Visitor, @Body() sent: Posted): Promise<Page> {
    const told = { name: textOf(sent['name']), role: textOf(sent['role']) };
    const done = await addKey(who.book, who.desk.sugarhouse, told, who.desk.now);
    if ('problem' in done) return peoplePage(who, { problem: done.problem, of: 'key', typed: sent });
    return peoplePage(who, { secret: { of: 'key', name: done.name, words: done.key } });
  }

  @Post('keys/end')
  @For('owner')
  async endKey(@Who() who: Visitor, @Body() sent: Posted): Promise<Page | SeeOther> {
    const name = textOf(sent['name']);
    const done = await endKey(who.book, who.desk.sugarhouse, name, who.desk.now);
    return shownOr(who, done, 'key', sent, `The key ${name} opens nothing any more.`);
  }

  @Post('links')
  @For('owner')
  async addLink(@Who() who: Visitor, @Body() sent: Posted, @Req() request: FastifyRequest): Promise<Page> {
    const told = { name: textOf(sent['name']), days: Number(textOf(sent['days']) || 'NaN'), by: who.initials };
    const done = await makeGuestLink(who.book, who.desk.sugarhouse, told, who.desk.now);
    if ('problem' in done) return peoplePage(who, { problem: done.problem, of: 'link', typed: sent });
    const address = `${addressForOthers(who.server, request)}/guest/${done.token}`;
    return peoplePage(who, {
      secret: { of: 'link', name: done.name, words: address, symbol: addressSymbol(address) },
    });
  }

  @Post('links/end')
  @For('owner')
  async endLink(@Who() who: Visitor, @Body() sent: Posted): Promise<SeeOther> {
    const at = who.desk.now.toISOString();
    await who.book.writeHousehold((sql) => endGuestLink(sql, who.desk.sugarhouse, textOf(sent['link']), at));
    return seeOther('/people', ['The link opens nothing any more, and whoever came by it is out.']);
  }

  @Post('sessions/end')
  @For('owner')
  async endSession(@Who() who: Visitor, @Body() sent: Posted): Promise<SeeOther> {
    await who.book.writeHousehold((sql) => endSession(sql, who.desk.sugarhouse, textOf(sent['session'])));
    return seeOther('/people', ['Signed out there.']);
  }
}

async function shownOr(
  who: Visitor,
  done: object | Refusal,
  of: 'person' | 'key',
  typed: Posted,
  note: string,
): Promise<Page | SeeOther> {
  if (isRefused(done)) return peoplePage(who, { problem: done.problem, of, typed });
  return seeOther('/people', [note]);
}

const isRefused = (done: object): done is { problem: Problem } => 'problem' in done;
