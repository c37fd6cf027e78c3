import { randomUUID } from 'node:crypto';
import cookie from '@fastify/cookie';
import multipart from '@fastify/multipart';
import { type DynamicModule, Module } from '@nestjs/common';
import { APP_FILTER, APP_INTERCEPTOR, NestFactory } from '@nestjs/core';
import { FastifyAdapter, type NestFastifyApplication } from '@nestjs/platform-fastify';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { apiControllers } from './api/api-controllers.js';
import { describeApi } from './api/describe-api.js';
import type { OpenApi } from './api/openapi.js';
import { refuseUnknownQuery } from './api/unknown-query.js';
import { JarPageController } from './screens/public-jar-page/jar-page-controller.js';
import { screens } from './screens/screens.js';
import { forgetReceived } from './forms/first-received.js';
import { receivedForm } from './forms/write-record.js';
import { fileLimitBytes } from './http/accepted-body.js';
import { AnswerInterceptor } from './http/response-interceptor.js';
import { takePhotoForm } from './http/photo-form.js';
import { takeHiddenFields } from './http/hidden-fields.js';
import { foreignOrigin } from './http/form-origin.js';
import { authorizeRequests, queueDocuments } from './http/guard.js';
import { setHeaders } from './http/headers.js';
import { identify } from './http/identify.js';
import { refuseInvalidKey } from './http/idempotency-key.js';
import { refuseInvalidIfMatch } from './http/if-match.js';
import { jsonInUtf8 } from './http/json-in-utf8.js';
import { refuseBrokenHttp } from './http/broken-http.js';
import { refuseOtherOrigin } from './http/other-origin-page.js';
import { apiDetails, plainDetails, problemDetails } from './http/problem-details.js';
import { principalOf } from './http/principal.js';
import { currentAddress } from './http/old-addresses.js';
import { loggedPath } from './http/logged-path.js';
import { ProblemFilter, isApi, sendDetails } from './http/problem-filter.js';
import type { Server } from './http/server.js';
import { serveAssets } from './http/static-files.js';
import { refuseUnstorable } from './http/well-formed.js';
import { routeTable, type RouteRow } from './http/route-table.js';

@Module({})
class BoilbookModule {}

/** The complete HTTP application of one server; main.ts listens with it, tests inject requests into it. */
export async function buildApp(server: Server): Promise<{ app: NestFastifyApplication; routes: readonly RouteRow[] }> {
  const adapter = new FastifyAdapter(adapterOptions(server));
  const instance = adapter.getInstance<FastifyInstance>();
  const routes = routeTable(instance);
  await instance.register(cookie);
  await instance.register(multipart, { limits: { fileSize: fileLimitBytes, files: 1, fields: 20 } });
  instance.removeContentTypeParser('text/plain');
  for (const type of ['text/csv', 'application/octet-stream'])
    instance.addContentTypeParser(type, { parseAs: 'buffer' }, async (_: unknown, bytes: Buffer) => bytes);
  adapter.useBodyParser('application/json', false, {}, jsonInUtf8(instance));
  authorizeRequests(instance, server, routes);
  queueDocuments(instance, server);
  refuseInvalidRequests(instance);
  logRequests(instance, server);
  await serveAssets(instance);
  let description: OpenApi | undefined;
  instance.decorate('describeApi', () => (description ??= describeApi(apiControllers, routes, '1')));

  const module: DynamicModule = {
    module: BoilbookModule,
    controllers: [...apiControllers, JarPageController, ...screens],
    providers: [
      { provide: APP_INTERCEPTOR, useClass: AnswerInterceptor },
      { provide: APP_FILTER, useClass: ProblemFilter },
    ],
  };
  const app = await NestFactory.create<NestFastifyApplication>(module, adapter, {
    logger: ['error', 'warn', 'fatal'],
    abortOnError: false,
  });
  await app.init();
  await instance.ready();
  return { app, routes };
}

function adapterOptions(server: Server): ConstructorParameters<typeof FastifyAdapter>[0] {
  return {
    genReqId: () => randomUUID().slice(0, 8),
    logger: false,
    trustProxy: server.settings.proxies.length > 0 ? [...server.settings.proxies] : false,
    rewriteUrl: (request: { url?: string }) => currentAddress(request.url ?? '/'),
    routerOptions: { ignoreTrailingSlash: true, maxParamLength: 200 },
    requestTimeout: 120_000,
    return503OnClosing: true,
    forceCloseConnections: 'idle',
    multipart: false,
    schemaController: { compilersFactory: { buildValidator: rejectSchemas, buildSerializer: rejectSchemas } },
    clientErrorHandler: refuseBrokenHttp,
    ...(server.settings.tls ? { https: server.settings.tls } : {}),
    frameworkErrors: (fault, request, reply) =>
      void refuseMalformedUrl(server, fault, request as never, reply as never),
  } as ConstructorParameters<typeof FastifyAdapter>[0];
}

/** A request with a broken key, condition, text or query, or sent from another origin, reaches no controller. */
function refuseInvalidRequests(instance: FastifyInstance): void {
  instance.addHook('preValidation', async (request, reply) => {
    const photoFault = await takePhotoForm(request);
    takeHiddenFields(request);
    const refusal =
      photoFault ??
      refuseInvalidKey(request) ??
      refuseInvalidIfMatch(request.headers['if-match']) ??
      refuseUnstorable(request.params, 'address') ??
      refuseUnstorable(request.query, 'query') ??
      refuseUnknownQuery(instance, request) ??
      refuseUnstorable(request.body, 'body');
    if (refusal) {
      // Sent here and not thrown: assets have no controller, so no filter would catch it.
      const details = isApi(request) ? apiDetails(refusal.problem, request) : problemDetails(refusal.problem);
      await sendDetails(request, reply, details, refusal.problem);
      return reply;
    }
    const otherOrigin = await foreignOrigin(request);
    return otherOrigin && refuseOtherOrigin(request, reply, otherOrigin);
  });
}

/**
 * Each route parses what it takes with zod, so none gives Fastify a schema; with these Fastify doesn't load its own
 * validator and serializer, 113 modules at each start.
 */
const rejectSchemas = () => (): never => {
  throw new Error('A route was given a Fastify schema: parse with zod.');
};

/** One log line per request: no query, header or body; a guest's link is cut from its address. */
function logRequests(instance: FastifyInstance, server: Server): void {
  instance.addHook('onResponse', async (request, reply) => {
    const form = request.hiddenFields?.['_once'] === undefined ? undefined : receivedForm(principalOf(request));
    if (form && isCertainlyNotSaved(reply.statusCode)) forgetReceived(form);
    server.log('request', {
      request: request.id,
      method: request.method,
      path: loggedPath(request.url),
      status: reply.statusCode,
      ms: Math.round(reply.elapsedTime),
    });
  });
}

/** Refused, or a full disk (503). After a bug the record may have been saved already. */
const isCertainlyNotSaved = (status: number): boolean => (status >= 400 && status < 500) || status === 503;

/** The router rejects malformed URLs before any hook runs, so authentication is done here. 503 where that fails. */
function refuseMalformedUrl(
  server: Server,
  fault: { statusCode?: number },
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<void> {
  return answerMalformedUrl(server, fault, request, reply).catch(() => void reply.code(503).send());
}

async function answerMalformedUrl(
  server: Server,
  fault: { statusCode?: number },
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<void> {
  // No hook has run: no cookie was read, and the headers are not set yet.
  setHeaders(reply, server.settings);
  Object.assign(request, { hiddenFields: {}, cookies: {} });
  request.principal = await identify(server, request);
  const needsKey = isApi(request) && request.principal.kind === 'nobody';
  const details = needsKey
    ? plainDetails(401, 'API key required', 'Send an API key in the header: Authorization: Bearer KEY.')
    : fault.statusCode === 414
      ? plainDetails(414, 'Address too long', 'The address is too long.')
      : plainDetails(400, 'Bad request', 'The address is malformed: check its percent signs.');
  await sendDetails(request, reply, details);
}
