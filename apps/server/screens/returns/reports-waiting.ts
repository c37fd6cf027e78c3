import type { SideBody } from '#libs/records/record-types.js';
import { recordsOf } from '#libs/store/queries/lots.js';
import { fromJarPage } from '../public-jar-page/customer-report.js';
import type { InHand } from '../today/work-in-progress.js';
import type { Visitor } from '../../http/principal.js';
import { dayWords } from '../../text/times.js';

/** What customers wrote from a jar's page and nobody has answered: no word yet of what was done. */
export async function reportsWaiting(who: Visitor, now: string): Promise<InHand[]> {
  const all = await recordsOf<SideBody>(who.book.read, who.desk.sugarhouse, 'complaint');
  return all
    .filter(({ body }) => body['from'] === fromJarPage && !body['done'])
    .reverse()
    .slice(0, 20)
    .map(({ id, body }) => ({
      code: id,
      href: `/records/complaint/${encodeURIComponent(id)}`,
      sentence: `${dayWords(body.at, now)}, jar ${String(body['jar'])}: ${shortened(String(body['said']))}`,
      next: { href: `/records/complaint/${encodeURIComponent(id)}/correct`, words: 'Write what was done' },
    }));
}

const shortened = (said: string): string => (said.length > 140 ? `${said.slice(0, 139)}…` : said);
