import { recordsOf } from '#libs/store/queries/lots.js';
import { fromJarPage } from '../public-jar-page/customer-report.js';
import type { WorkInProgress } from './work-in-progress.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { dayText } from '../../text/times.js';

/** What customers wrote from a jar's page and nobody has answered: no word yet of what was done. */
export async function reportsWaiting(principal: Principal, now: string): Promise<WorkInProgress[]> {
  const all = await recordsOf(readerOf(principal), 'complaint');
  return all
    .filter(({ body }) => body['from'] === fromJarPage && !body['done'])
    .reverse()
    .slice(0, 20)
    .map(({ id, body }) => ({
      code: id,
      href: `/records/complaint/${encodeURIComponent(id)}`,
      sentence: `${dayText(body.at, now)}, jar ${String(body['jar'])}: ${shortened(String(body['said']))}`,
      next: { href: `/records/complaint/${encodeURIComponent(id)}/correct`, words: 'Write what was done' },
    }));
}

const shortened = (formatted: string): string => (formatted.length > 140 ? `${formatted.slice(0, 139)}…` : formatted);
