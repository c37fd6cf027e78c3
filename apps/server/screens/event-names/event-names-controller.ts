import { Controller, Get, Param, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { TermsPage } from '#pages/event-names/terms.js';
import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import { epcisTerms, termsVocabulary } from '#libs/reports/epcis/terms.js';
import { Public } from '../../http/access.js';
import { CurrentPrincipal, type Principal } from '../../http/principal.js';
import { type HtmlPage, htmlPage, type Redirect, redirect } from '../../http/responses.js';

/**
 * The addresses by which EPCIS events name lots, places, instruments and records: for people who are signed in, each
 * leads to the page that shows it. Jars have their public page (`/J/CODE`, `/01/…`).
 */
@Controller()
export class EventNamesController {
  @Get('lot/:code')
  lot(@Param('code') code: string): Redirect {
    // The sap of a boil without recorded gatherings is named `CODE sap`.
    return redirect(`/lots/${encodeURIComponent(code.replace(/ sap$/, ''))}`);
  }

  @Get('place/sugarhouse')
  sugarhouse(): Redirect {
    return redirect('/house');
  }

  @Get('place/:name')
  place(@Param('name') name: string): Redirect {
    return redirect(`/find?${new URLSearchParams({ q: name }).toString()}`);
  }

  @Get('instrument/:id')
  instrument(@Param('id') id: string): Redirect {
    return redirect(`/find?${new URLSearchParams({ q: id }).toString()}`);
  }

  /** A change of a lot is named by the lot and the entry: `26077A-1 152`, `26077A-1 before 152`. */
  @Get('event/:kind/:id')
  event(@Param('kind') kind: string, @Param('id') id: string): Redirect {
    const entry = / (\d+)$/.exec(id)?.[1];
    return redirect(
      entry === undefined ? `/records/${encodeURIComponent(kind)}/${encodeURIComponent(id)}` : `/records/${entry}`,
    );
  }

  /** The vocabulary of our own fields, for whoever received a file of events: it holds nothing of the record. */
  @Get('terms')
  @Public()
  terms(
    @CurrentPrincipal() principal: Principal,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): HtmlPage | object {
    void reply.header('Vary', 'Accept');
    if (!wantsJson(request)) return htmlPage(TermsPage, { terms: epcisTerms });
    void reply.type('application/ld+json');
    return termsVocabulary(baseUrl(principal, request));
  }

  @Get('terms/:name')
  @Public()
  term(
    @CurrentPrincipal() principal: Principal,
    @Param('name') name: string,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Redirect | Refusal | object {
    const found = epcisTerms.filter((term) => term.name === name);
    if (found.length === 0) return unknown('term', name);
    void reply.header('Vary', 'Accept');
    if (!wantsJson(request)) return redirect(`/terms#${name}`);
    void reply.type('application/ld+json');
    return termsVocabulary(baseUrl(principal, request), found);
  }
}

const wantsJson = ({ headers }: FastifyRequest): boolean => /\bjson\b/.test(headers.accept ?? '');

const baseUrl = ({ server }: Principal, request: FastifyRequest): string =>
  (server.settings.publicUrl || `${request.protocol}://${request.host}`).replace(/\/+$/, '');
