import type { SideBody } from '#libs/records/bodies.js';
import { recordsOf } from '#libs/records/lots.js';
import { fromJarPage } from '../jar-page/customer-report.js';
import type { InHand } from '../today/in-hand.js';
import type { Visitor } from '../web/visitor.js';
import { dayWords } from '../words/times.js';

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
