import { Controller, Get, Query } from '@nestjs/common';
import { FindPage } from '#pages/find/find.js';
import { htmlPage, redirect } from '../../http/responses.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { findPage } from './find-page.js';

@Controller('find')
export class FindController {
  @Get()
  async find(@CurrentPrincipal() principal: Principal, @Query('q') typed: unknown) {
    const found = await findPage(principal, typeof typed === 'string' ? typed.trim().slice(0, 200) : '');
    return 'redirect' in found ? redirect(found.redirect) : htmlPage(FindPage, found);
  }
}
