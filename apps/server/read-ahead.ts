import { nobody } from './http/identify.js';
import type { Server } from './http/server.js';
import { packsPage } from './screens/packs/pack-list.js';
import { currentYear, picturesPage, seasonPage } from './screens/season/season-pages.js';
import { todayPage } from './screens/today/today-page.js';

/**
 * Reads the data of this season's pages, Today and the list of packs, for the first sugarhouse, so that the first
 * person after a start doesn't wait ten times as long as the next. What can't be read now is read on request, where a
 * fault is reported.
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
