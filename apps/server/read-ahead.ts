import { nobody } from './http/identify.js';
import type { Server } from './http/server.js';
import { packsPage } from './screens/packs/pack-list.js';
import { currentYear, picturesPage, seasonPage } from './screens/season/season-pages.js';
import { todayPage } from './screens/today/today-page.js';

/**
 * Reads what the pages of this season, Today and the list of packs are made of, of the first sugarhouse, so that the first
 * person after a start need not wait for it: ten times as long as any reader after them. What can't be read now is read
 * when it is asked for, where a fault is answered.
 */
export async function readAhead(server: Server): Promise<void> {
  try {
    const principal = nobody(server);
    const year = await currentYear(principal);
    await todayPage(principal);
    await packsPage(principal, {});
    await seasonPage(principal, year);
    await picturesPage(principal, year);
  } catch {
    // The book may be damaged, or closing.
  }
}
