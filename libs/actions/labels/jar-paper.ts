import type { JarPaper } from '#libs/labels/drawing/draw-jar-paper.js';
import { packedText } from '#libs/labels/content/label-text.js';
import { storySentences, storySentencesFr } from '#libs/labels/content/story-text.js';
import { findRecord } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { judgingNow } from '../lots/judged-now.js';
import { refused, type Refusal } from '../record/problem.js';
import { loadSugarhouseContext, type WriteContext } from '../record/write-context.js';
import { storyOfPack } from './jar-story.js';
import { labelOfPack } from './label-of-pack.js';
import { lookFor } from './label-look-of.js';
import { packToLabel } from './label-run.js';

/** The text of a pack's neck tag and seal strip, and for how many jars; refused where its labels would be. */
export async function jarPaperOf(
  sql: Sql,
  context: Pick<WriteContext, 'sugarhouse' | 'now' | 'zone'>,
  code: string,
): Promise<{ readonly paper: JarPaper; readonly count: number } | Refusal> {
  const may = await packToLabel(await judgingNow(sql, context), code);
  if ('problem' in may) return may;
  const { lot } = may;
  const reader = { sql, sugarhouse: context.sugarhouse };
  const { house, place } = await loadSugarhouseContext(sql, context);
  const content = await labelOfPack(reader, lot, place);
  const pack = (await findRecord(reader, 'pack', lot.code))?.body;
  if (!content || !pack) return refused('no-record', `${lot.code} has no record to print from.`);
  const story = await storyOfPack(reader, pack, house?.volumes ?? 'gal');
  return {
    count: Math.min(lot.jars ?? 0, mostPapers),
    paper: {
      maker: content.maker.name,
      product: content.product,
      ...(content.bilingual ? { productFr: content.productFr, storyFr: storySentencesFr(story) } : {}),
      lot: lot.code,
      packed: packedText(content.packedOn),
      story: storySentences(story),
      look: await lookFor(reader, house, {}),
      practice: content.practice,
    },
  };
}

/** More than a household cuts out in an evening. */
const mostPapers = 500;
