import { Controller, Get, Req } from '@nestjs/common';
import { ApiExcludeController, type OpenAPIObject } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { Public } from '../http/access.js';

declare module 'fastify' {
  interface FastifyInstance {
    /** Made when it is first asked for, then kept. */
    describeApi: () => OpenAPIObject;
  }
}

@ApiExcludeController()
@Controller('api/openapi.json')
export class OpenApiController {
  @Get()
  @Public()
  describe(@Req() request: FastifyRequest): OpenAPIObject {
    return request.server.describeApi();
  }
}
