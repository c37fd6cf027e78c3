import type { WriteContext } from '#libs/actions/record/write-context.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { refused } from '#libs/actions/record/problem.js';
import { recordOn } from '#libs/actions/record/record.js';
import { findSent } from '#libs/store/log/log.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { recordsOf } from '#libs/store/queries/lots.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { textOf } from '../set-up/text-of.js';
import type { Principal } from '../../http/principal.js';
import type { FoundJar } from './found-jar.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** From whom such a complaint is, as the book writes it. */
export const fromJarPage = 'jar page';

export interface NotTaken {
  readonly said: string;
  readonly reach: string;
  readonly fault: 'said' | 'reach' | 'again' | 'full';
}

/**
 * What a customer wrote becomes a complaint of the jar's lot. It stops nothing by itself: a maker looks at the jar
 * and answers for mould. Nothing in the answer tells what else the book holds.
 */
export async function takeReport(
  principal: Principal,
  found: FoundJar,
  sent: Record<string, unknown>,
): Promise<'taken' | NotTaken> {
  const formatted = textOf(sent['said']).trim();
  const reach = textOf(sent['reach']).trim();
  const not = (fault: NotTaken['fault']): NotTaken => ({ said: formatted, reach, fault });
  if (formatted === '' || formatted.length > mostSaid) return not('said');
  if (reach.length > mostReach) return not('reach');
  const context = customersDesk(principal, found);
  // Without its token the form can't be told from itself sent twice.
  if (context.key === undefined) return not('again');
  const { key } = context;
  // Counted inside the write: a hundred at once would all find room before the first of them is written.
  const done = await found.book.write(async (page) => {
    const before = await findSent(sugarhouseReader(page.sql, context.sugarhouse), context.author, key);
    if (!before && (await isFull(page.sql, found, context))) return refused('full', 'So many were taken today.');
    return recordOn(page, context, kindByName.get('complaint')!, {
      lot: found.jar.pack,
      jar: printedJarCode(found.jar.code),
      from: fromJarPage,
      said: formatted,
      ...(reach ? { note: `Reach them: ${reach}` } : {}),
      by: customer,
    });
  });
  if (!('problem' in done)) return 'taken';
  if (done.problem.kind === 'refused' && done.problem.rule === 'full') return not('full');
  return not(done.problem.kind === 'invalid' ? 'said' : 'again');
}

const mostSaid = 1000;
const mostReach = 200;
const customer = 'customer';

/** The customer's own desk, whoever is signed in at this browser; it has seen nothing of the book. */
const customersDesk = ({ writeContext: context }: Principal, { jar }: FoundJar): WriteContext => ({
  sugarhouse: jar.sugarhouse,
  by: customer,
  author: fromJarPage,
  now: context.now,
  zone: context.zone,
  key: context.key,
});

/** The record can't be unwritten, so it takes only so many in a day: of one jar, and of all. */
async function isFull(sql: Sql, { jar }: FoundJar, { now }: WriteContext): Promise<boolean> {
  const dayAgo = new Date(now.getTime() - 86_400_000).toISOString();
  const recent = (await recordsOf(sugarhouseReader(sql, jar.sugarhouse), 'complaint')).filter(
    ({ body, atUtc }) => body['from'] === fromJarPage && Date.parse(atUtc) >= Date.parse(dayAgo),
  );
  const ofJar = recent.filter(({ body }) => body['jar'] === printedJarCode(jar.code));
  return ofJar.length >= mostOfAJar || recent.length >= mostInAll;
}
const mostOfAJar = 5;
const mostInAll = 60;
