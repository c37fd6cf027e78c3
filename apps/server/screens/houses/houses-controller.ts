import { Body, Controller, Get, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import { findHouse, housesOf } from '#libs/store/household/houses.js';
import { HousesPage } from '#pages/houses/houses.js';
import { firstText, type Posted } from '../../forms/field-view.js';
import { RequireRole } from '../../http/access.js';
import { type HtmlPage, htmlPage, type Redirect, redirect } from '../../http/responses.js';
import { setChosenHouse, clearChosenHouse } from '../../http/house-choice.js';
import { type Principal, CurrentPrincipal } from '../../http/principal.js';

/** Chooses whose book to read, for people who may read every one: a plain list with a button each. */
@Controller('houses')
export class HousesController {
  @Get()
  async list(@CurrentPrincipal() principal: Principal): Promise<HtmlPage | Refusal> {
    if (!principal.readsAll) return unknown('page', 'houses');
    const houses = await housesOf(principal.book.read);
    return htmlPage(HousesPage, {
      title: 'Sugarhouses',
      here: '',
      houses: houses.map((house) => ({
        ...house,
        own: house.key === principal.own.sugarhouse,
        open: house.key === principal.writeContext.sugarhouse,
      })),
    });
  }

  /** Guests may use it, since in another house's book everyone is a guest. */
  @Post()
  @RequireRole('guest', { anyBook: true })
  async choose(
    @CurrentPrincipal() principal: Principal,
    @Body() posted: Posted,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<Redirect | Refusal> {
    const house = principal.readsAll ? await findHouse(principal.book.read, firstText(posted['house'])) : undefined;
    if (!house) return unknown('sugarhouse', firstText(posted['house']));
    if (house.key === principal.own.sugarhouse) clearChosenHouse(reply);
    else setChosenHouse(request, reply, house.key);
    // Back to the requested page; an address that is not ours leads to the first page.
    return redirect(firstText(posted['to']) || '/');
  }
}
