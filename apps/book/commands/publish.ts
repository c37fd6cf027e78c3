import { resolve } from 'node:path';
import { groundOf } from '#libs/actions/desk.js';
import { invalid } from '#libs/actions/problem.js';
import { labelOfPack } from '#libs/labels/label-of-pack.js';
import { recallNotice } from '#libs/labels/recall-notice.js';
import { type PublishedLot, publishJarPages } from '#libs/labels/publish-jar-pages.js';
import { jarsOfPack, lotsOf } from '#libs/records/lots.js';
import type { Sql } from '#libs/records/sql.js';
import type { PlaceRules } from '#libs/syrup/places.js';
import type { Command } from '../command.js';

export const publish: Command = {
  name: 'publish',
  usage: 'FOLDER',
  says: 'A small static page for each jar, for any web space. Said again after a recall, every page of the lot changes.',
  run: async (bench) => {
    const [folder] = bench.words;
    if (folder === undefined || bench.words.length > 1)
      return invalid('folder', 'one folder', bench.words.join(' ') || 'nothing');
    const book = await bench.book();
    const published = await book.snapshot(async (sql) => {
      const { place } = await groundOf(sql, bench.desk);
      return publishJarPages(resolve(folder), lotsToPublish(sql, bench.desk.sugarhouse, place));
    });
    return {
      json: { ...published, folder: resolve(folder) },
      lines: [`${folder}: ${published.pages} pages, ${published.written} of them new or changed.`],
    };
  },
};

async function* lotsToPublish(sql: Sql, sugarhouse: string, place: PlaceRules): AsyncGenerator<PublishedLot> {
  for (const lot of await lotsOf(sql, sugarhouse, 'pack')) {
    const content = lot.jars === undefined ? undefined : await labelOfPack(sql, sugarhouse, lot, place);
    if (!content) continue;
    const jars = jarsOfPack(sql, sugarhouse, lot.code);
    yield { content, jars, notice: recallNotice(lot, content) };
  }
}
