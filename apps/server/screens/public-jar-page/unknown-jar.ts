import { JarUnknownPage } from '#pages/public-jar-page/jar-unknown.js';
import { type HtmlPage, htmlPage } from '../../http/responses.js';
import { type Principal, sugarhouseContextFor } from '../../http/principal.js';

/** 404: no sugarhouse of the book has the jar. It gives the telephone of the sugarhouse that the page names. */
export async function unknownJar(principal: Principal): Promise<HtmlPage> {
  const { house } = await sugarhouseContextFor(principal);
  return htmlPage(JarUnknownPage, { phone: house?.phone ?? '' }, 404);
}
