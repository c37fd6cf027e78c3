import { createHash } from 'node:crypto';
import { Controller, Get, Param, Res } from '@nestjs/common';
import type { FastifyReply } from 'fastify';
import { jarState } from '#libs/actions/jars/jar-states.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { loadRecallHazard } from '#libs/actions/recall/recall-entries.js';
import { jarNotice } from '#libs/labels/content/jar-notice.js';
import { jarPage } from '#libs/labels/content/static-jar-page.js';
import { loadPublicStory, publicStoryPhoto } from '#libs/actions/labels/jar-story.js';
import { labelContent } from '#libs/actions/labels/label-content.js';
import { movementsOfJar } from '#libs/store/queries/trace.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { Public } from '../../http/access.js';
import type { HtmlPage } from '../../http/responses.js';
import { type Principal, CurrentPrincipal } from '../../http/principal.js';
import { findTypedJarAndPack } from './found-jar.js';
import { publicLotPage } from './lot-page.js';
import { unknownJar } from './unknown-jar.js';

/**
 * The page that a jar's QR code opens, for anyone: first whether the jar is recalled, held or set apart, then the
 * content of its label. Labels carry the path in capitals; an unknown code and an unreadable one get the same answer.
 */
@Controller()
export class JarPageController {
  @Get(['j/:code', 'J/:code'])
  @Public({ anyHost: true })
  show(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    return respondWithJar(principal, code, reply);
  }

  /** The one photo that the maker shows with the story; 404 where the story isn't shown. */
  @Get('j/:code/photo.jpg')
  @Public({ anyHost: true })
  async photo(
    @CurrentPrincipal() principal: Principal,
    @Param('code') code: string,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    const found = await findTypedJarAndPack(principal, code);
    const image = found && (await publicStoryPhoto(sugarhouseReader(found.book.read, found.jar.sugarhouse)));
    if (!image) return unknownJar(principal);
    void reply.type('image/jpeg').header('Cache-Control', 'public, max-age=3600');
    return image;
  }

  /** A GS1 Digital Link of the maker's own article number leads to the same page. */
  @Get('01/:gtin/10/:lot/21/:code')
  @Public({ anyHost: true })
  showLinked(
    @CurrentPrincipal() principal: Principal,
    @Param('lot') lot: string,
    @Param('code') code: string,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    return respondWithJar(principal, code, reply, lot);
  }

  /** The same without a jar: the page of a lot whose labels were printed with this number. */
  @Get('01/:gtin/10/:lot')
  @Public({ anyHost: true })
  async showLot(
    @CurrentPrincipal() principal: Principal,
    @Param('gtin') gtin: string,
    @Param('lot') lot: string,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<HtmlPage | string> {
    const html = await publicLotPage(principal, gtin, lot);
    return html === undefined ? unknownJar(principal) : sendPublicPage(html, reply);
  }
}

async function respondWithJar(
  principal: Principal,
  typed: string,
  reply: FastifyReply,
  lot?: string,
): Promise<HtmlPage | string> {
  const found = await findTypedJarAndPack(principal, typed);
  if (!found || (lot !== undefined && lot !== found.jar.pack)) return unknownJar(principal);
  return sendPublicPage(await jarHtml(principal, found), reply);
}

function sendPublicPage(published: string, reply: FastifyReply): string {
  const html = published.replace('<style>', `<style>${typeface}`);
  // Never cached: a recall must be seen at once.
  void reply.type('text/html; charset=utf-8').headers({
    'Cache-Control': 'public, no-cache',
    'Content-Security-Policy': policyFor(html),
  });
  return html;
}

/** The typeface of the labels, which a page published elsewhere can't load. Text that would move isn't redrawn. */
const typeface = [400, 700]
  .map(
    (weight) =>
      `@font-face{font-family:"Atkinson Hyperlegible Next";font-weight:${weight};font-display:optional;src:url(/assets/fonts/atkinson-hyperlegible-next-latin-${weight}-normal.woff2) format("woff2")}`,
  )
  .join('');

type FoundJarAndPack = NonNullable<Awaited<ReturnType<typeof findTypedJarAndPack>>>;

async function jarHtml(principal: Principal, { book, jar, lot, pack, typed }: FoundJarAndPack): Promise<string> {
  const { sugarhouse } = jar;
  // Read together, so that they go to the database in one batch.
  const [judging, movements] = await Promise.all([
    loadJudgingContext(book.read, { ...principal.writeContext, sugarhouse }),
    movementsOfJar(sugarhouseReader(book.read, sugarhouse), jar.code),
  ]);
  const content = labelContent(lot, { body: pack, typed }, judging.houseContext);
  const recorded = await loadRecallHazard({ sql: book.read, sugarhouse }, lot);
  const notice = jarNotice(await jarState(book, judging, lot, { ...jar, movements }), lot.code, content, recorded);
  // A page published elsewhere can't receive reports, so only the served one has this link.
  const story = await loadPublicStory({ sql: book.read, sugarhouse }, pack, judging.houseContext.house);
  const html = jarPage(content, { code: jar.code, notice, story, photoAddress: `/j/${jar.code}/photo.jpg` }).replace(
    '</main>',
    `<p><a href="/j/${jar.code}/report">Or write to the makers</a></p>\n</main>`,
  );
  const mayTrace =
    principal.kind !== 'nobody' && (sugarhouse === principal.writeContext.sugarhouse || principal.readsAll);
  if (!mayTrace || book !== principal.book) return html;
  return html.replace('</main>', `<p><a href="/jars/${jar.code}">Trace it in the book</a></p>\n</main>`);
}

const policies = new Map<string, string>();

/** The page is one file, as published elsewhere too: the content policy allows only its own style, by hash. */
function policyFor(html: string): string {
  const style = /<style>([\s\S]*?)<\/style>/.exec(html)?.[1] ?? '';
  let policy = policies.get(style);
  if (policy === undefined) {
    const hash = createHash('sha256').update(style).digest('base64');
    policy = `default-src 'none'; img-src 'self'; style-src 'sha256-${hash}'; font-src 'self'; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'`;
    policies.clear();
    policies.set(style, policy);
  }
  return policy;
}
