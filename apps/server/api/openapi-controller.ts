import { Controller, Get, Req } from '@nestjs/common';
import { ApiReferencePage } from '#pages/api/reference.js';
import type { FastifyRequest } from 'fastify';
import { Public } from '../http/access.js';
import { type HtmlPage, htmlPage } from '../http/responses.js';
import { apiPage } from './api-page.js';
import type { OpenApi } from './openapi.js';

declare module 'fastify' {
  interface FastifyInstance {
    /** Made when it is first asked for, then kept. */
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

  /** The same to read; it needs nothing from elsewhere and no script. */
  @Get('docs')
  @Public()
  docs(@Req() request: FastifyRequest): HtmlPage {
    return htmlPage(ApiReferencePage, apiPage(request.server.describeApi()));
  }
}
