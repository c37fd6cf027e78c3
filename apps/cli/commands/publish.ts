import { resolve } from 'node:path';
import { jarStates } from '#libs/actions/jars/jar-states.js';
import type { JudgingContext } from '#libs/actions/judging/judging-context.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { invalid } from '#libs/actions/record/problem.js';
import { loadPublicStory, publicStoryPhoto } from '#libs/actions/labels/jar-story.js';
import { loadLabelContent } from '#libs/actions/labels/label-content.js';
import { loadRecallHazard } from '#libs/actions/recall/recall-entries.js';
import { jarNotice } from '#libs/labels/content/jar-notice.js';
import { type PublishedLot, publishJarPages } from '#libs/labels/content/publish-jar-pages.js';
import { findRecord, jarsOfPack, lotsOf } from '#libs/store/queries/lots.js';
import type { Book } from '#libs/store/book.js';
import { catalogueEntry } from '../catalogue.js';
import type { Command } from '../command.js';

export const publish: Command = {
  ...catalogueEntry('publish'),
  run: async (cli) => {
    const [folder] = cli.argv;
    if (folder === undefined || cli.argv.length > 1)
      return invalid('folder', 'one folder', cli.argv.join(' ') || 'nothing');
    const book = await cli.book();
    const published = await book.snapshot(async (sql) => {
      const judging = await loadJudgingContext(sql, cli.writeContext);
      return publishJarPages(resolve(folder), lotsToPublish(book, judging));
    });
    return {
      json: { ...published, folder: resolve(folder) },
      lines: [`${folder}: ${published.pages} pages, ${published.written} of them new or changed.`],
    };
  },
};

async function* lotsToPublish(book: Book, judging: JudgingContext): AsyncGenerator<PublishedLot> {
  const { sql, sugarhouse, houseContext } = judging;
  const photo = await publicStoryPhoto({ sql, sugarhouse });
  for (const lot of await lotsOf({ sql, sugarhouse }, 'pack')) {
    const content =
      lot.jars === undefined ? undefined : await loadLabelContent({ sql, sugarhouse }, lot, houseContext.place);
    if (!content) continue;
    const jars = jarsOfPack({ sql, sugarhouse }, lot.code);
    const state = await jarStates(book, judging, lot);
    const pack = (await findRecord({ sql, sugarhouse }, 'pack', lot.code))?.body;
    const story = pack && (await loadPublicStory({ sql, sugarhouse }, pack, houseContext.house));
    const recorded = await loadRecallHazard({ sql, sugarhouse }, lot);
    yield { content, jars, story, photo, notice: (jar) => jarNotice(state(jar), lot.code, content, recorded) };
  }
}
