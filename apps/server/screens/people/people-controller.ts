import { Body, Controller, Get, Post, Req } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { addKey, addPerson, changePassword, endKey, endPerson } from '#libs/actions/accounts/accounts.js';
import type { Problem, Refusal } from '#libs/actions/record/problem.js';
import { makeGuestLink } from '#libs/actions/accounts/sign-in.js';
import { endGuestLink, endSession } from '#libs/store/household/household-tokens.js';
import { addressSymbol } from '#libs/labels/symbol/address-symbol.js';
import { textOf } from '../set-up/text-of.js';
import { RequireRole } from '../../http/access.js';
import { addressForOthers } from '../../http/own-addresses.js';
import { type HtmlPage, type Redirect, redirect } from '../../http/responses.js';
import { type Principal, CurrentPrincipal } from '../../http/principal.js';
import { peoplePage } from './people-page.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

type Posted = Record<string, unknown>;

/** Accounts: people, keys for scripts, links for guests, and devices that are signed in. For the owner only. */
@Controller('people')
export class PeopleController {
  @Get()
  @RequireRole('owner')
  show(@CurrentPrincipal() principal: Principal): Promise<HtmlPage> {
    return peoplePage(principal);
  }

  @Post()
  @RequireRole('owner')
  async add(@CurrentPrincipal() principal: Principal, @Body() sent: Posted): Promise<HtmlPage | Redirect> {
    const [initials, name, role, password] = ['initials', 'name', 'role', 'password'].map((each) => textOf(sent[each]));
    const person = { initials: initials ?? '', name, role: role ?? '', ...(password ? { password } : {}) };
    return pageOrRedirect(
      principal,
      await addPerson(principal.book, principal.writeContext.sugarhouse, person),
      'person',
      sent,
      `Saved ${person.initials}.`,
    );
  }

  @Post('password')
  @RequireRole('owner')
  async setPassword(@CurrentPrincipal() principal: Principal, @Body() sent: Posted): Promise<HtmlPage | Redirect> {
    const account = { initials: textOf(sent['initials']), password: textOf(sent['password']) };
    return pageOrRedirect(
      principal,
      await changePassword(principal.book, principal.writeContext.sugarhouse, account),
      'person',
      sent,
      `${account.initials} has a new password.`,
    );
  }

  @Post('end')
  @RequireRole('owner')
  async end(@CurrentPrincipal() principal: Principal, @Body() sent: Posted): Promise<HtmlPage | Redirect> {
    const initials = textOf(sent['initials']);
    const done = await endPerson(
      principal.book,
      principal.writeContext.sugarhouse,
      initials,
      principal.writeContext.now,
    );
    return pageOrRedirect(principal, done, 'person', sent, `${initials} can no longer sign in. Their entries stay.`);
  }

  @Post('keys')
  @RequireRole('owner')
  async addKey(@CurrentPrincipal() principal: Principal, @Body() sent: Posted): Promise<HtmlPage> {
    const newKey = { name: textOf(sent['name']), role: textOf(sent['role']) };
    const done = await addKey(principal.book, principal.writeContext.sugarhouse, newKey, principal.writeContext.now);
    if ('problem' in done) return peoplePage(principal, { problem: done.problem, of: 'key', typed: sent });
    return peoplePage(principal, { secret: { of: 'key', name: done.name, text: done.key } });
  }

  @Post('keys/end')
  @RequireRole('owner')
  async endKey(@CurrentPrincipal() principal: Principal, @Body() sent: Posted): Promise<HtmlPage | Redirect> {
    const name = textOf(sent['name']);
    const done = await endKey(principal.book, principal.writeContext.sugarhouse, name, principal.writeContext.now);
    return pageOrRedirect(principal, done, 'key', sent, `The key ${name} no longer works.`);
  }

  @Post('links')
  @RequireRole('owner')
  async addLink(
    @CurrentPrincipal() principal: Principal,
    @Body() sent: Posted,
    @Req() request: FastifyRequest,
  ): Promise<HtmlPage> {
    const newLink = { name: textOf(sent['name']), days: Number(textOf(sent['days']) || 'NaN'), by: principal.initials };
    const done = await makeGuestLink(
      principal.book,
      principal.writeContext.sugarhouse,
      newLink,
      principal.writeContext.now,
    );
    if ('problem' in done) return peoplePage(principal, { problem: done.problem, of: 'link', typed: sent });
    const address = `${addressForOthers(principal.server, request)}/guest/${done.token}`;
    return peoplePage(principal, {
      secret: { of: 'link', name: done.name, text: address, symbol: addressSymbol(address) },
    });
  }

  @Post('links/end')
  @RequireRole('owner')
  async endLink(@CurrentPrincipal() principal: Principal, @Body() sent: Posted): Promise<Redirect> {
    const at = principal.writeContext.now.toISOString();
    await principal.book.writeHousehold((sql) =>
      endGuestLink(sugarhouseReader(sql, principal.writeContext.sugarhouse), textOf(sent['link']), at),
    );
    return redirect('/people', ['The link no longer works, and everybody who used it is signed out.']);
  }

  @Post('sessions/end')
  @RequireRole('owner')
  async endSession(@CurrentPrincipal() principal: Principal, @Body() sent: Posted): Promise<Redirect> {
    await principal.book.writeHousehold((sql) =>
      endSession(sugarhouseReader(sql, principal.writeContext.sugarhouse), textOf(sent['session'])),
    );
    return redirect('/people', ['Signed out there.']);
  }
}

async function pageOrRedirect(
  principal: Principal,
  done: object | Refusal,
  of: 'person' | 'key',
  typed: Posted,
  note: string,
): Promise<HtmlPage | Redirect> {
  if (isRefused(done)) return peoplePage(principal, { problem: done.problem, of, typed });
  return redirect('/people', [note]);
}

const isRefused = (done: object): done is { problem: Problem } => 'problem' in done;
