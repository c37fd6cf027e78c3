import { Controller, Get, Req } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { unknown } from '#libs/actions/record/problem.js';
import { TrustPage } from '#pages/trust/trust.js';
import { Public } from '../../http/access.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { download, htmlPage } from '../../http/responses.js';

/** How to make a device trust the house's certificate. Public: it is needed before signing in. */
@Controller('trust')
export class TrustController {
  @Get()
  @Public()
  show(@CurrentPrincipal() { server }: Principal, @Req() request: FastifyRequest) {
    const platform = platformOf(request.headers['user-agent'] ?? '');
    return htmlPage(TrustPage, { fingerprint: server.authority?.().fingerprint, platform });
  }

  /** The authority's certificate, never its key. */
  @Get('authority.crt')
  @Public()
  authority(@CurrentPrincipal() { server }: Principal) {
    const authority = server.authority?.();
    if (!authority) return unknown('file', 'authority.crt');
    return download(
      'boilbook-authority.crt',
      'application/x-x509-ca-cert',
      async (out) => void out.end(authority.authority),
    );
  }
}

/** Which steps are unfolded at first; the others are one tap away. */
function platformOf(userAgent: string): string {
  if (/Android/.test(userAgent)) return 'Android';
  if (/iPhone|iPad/.test(userAgent)) return 'iPhone and iPad';
  if (/Firefox/.test(userAgent)) return 'Firefox on any computer';
  if (/Windows/.test(userAgent)) return 'Windows';
  if (/Macintosh/.test(userAgent)) return 'macOS';
  return 'Linux with Chrome or Chromium';
}
