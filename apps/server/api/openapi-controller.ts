import { Controller, Get, Req } from '@nestjs/common';
import { ApiReferencePage } from '#pages/api/reference.js';
import type { FastifyRequest } from 'fastify';
import { Public } from '../http/access.js';
import { type HtmlPage, htmlPage } from '../http/responses.js';
import { apiPage } from './api-page.js';
import type { OpenApi } from './openapi.js';

declare module 'fastify' {
  interface FastifyInstance {
    /** Made at the first request, then cached. */
    describeApi: () => OpenApi;
  }
}

@Controller('api')
export class OpenApiController {
  @Get('openapi.json')
  @Public()
  describe(@Req() request: FastifyRequest): OpenApi {
    return request.server.describeApi();
  }

  /** The same as a page to read; it loads nothing from other sites and needs no script. */
  @Get('docs')
  @Public()
  docs(@Req() request: FastifyRequest): HtmlPage {
    return htmlPage(ApiReferencePage, apiPage(request.server.describeApi()));
  }
}
