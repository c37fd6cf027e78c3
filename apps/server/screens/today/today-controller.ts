import { Controller, Get, Req } from '@nestjs/common';
import { TodayPage } from '#pages/today/today.js';
import type { FastifyRequest } from 'fastify';
import { isAllowed } from '../../http/access.js';
import { htmlPage } from '../../http/responses.js';
import { phonesView } from '../../http/phones-view.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { todayPage } from './today-page.js';

@Controller()
export class TodayController {
  @Get()
  async today(@CurrentPrincipal() principal: Principal, @Req() request: FastifyRequest) {
    const phones = isAllowed(principal.role, 'maker') ? phonesView(principal.server, request) : undefined;
    return htmlPage(TodayPage, { ...(await todayPage(principal)), phones });
  }
}
