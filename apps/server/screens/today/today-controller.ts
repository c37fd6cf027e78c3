import { Controller, Get, Req } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { mayEnter } from '../../http/access.js';
import { page } from '../../http/responses.js';
import { phonesView } from '../../http/phones-view.js';
import { Who, type Visitor } from '../../http/principal.js';
import { todayPage } from './today-page.js';

@Controller()
export class TodayController {
  @Get()
  async today(@Who() who: Visitor, @Req() request: FastifyRequest) {
    const phones = mayEnter(who.role, 'maker') ? phonesView(who.server, request) : undefined;
    return page('today/today', { ...(await todayPage(who)), phones });
  }
}
