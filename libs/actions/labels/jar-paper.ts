import type { JarPaper } from '#libs/labels/content/jar-paper.js';
import { packedText } from '#libs/labels/content/label-text.js';
import { storySentences, storySentencesFr } from '#libs/labels/content/story-text.js';
import { findRecord } from '#libs/store/queries/lots.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { loadJudgingContext } from '../judging/judge-now.js';
import { refused, type Refusal } from '../record/problem.js';
import { loadSugarhouseContext, type WriteContext } from '../record/write-context.js';
import { loadPackStory } from './jar-story.js';
import { loadLabelContent } from './label-content.js';
import { loadLabelLook } from './label-look.js';
import { findLabelablePack } from './label-run.js';

/** The text of a pack's neck tag and seal strip, and for how many jars; refused where its labels would be. */
export async function loadJarPaper(
  sql: Sql,
  context: Pick<WriteContext, 'sugarhouse' | 'now' | 'zone'>,
  code: string,
): Promise<{ readonly paper: JarPaper; readonly count: number } | Refusal> {
  const clearance = await findLabelablePack(await loadJudgingContext(sql, context), code);
  if ('problem' in clearance) return clearance;
  const { lot } = clearance;
  const reader = { sql, sugarhouse: context.sugarhouse };
  const { house, place } = await loadSugarhouseContext(sql, context);
  const content = await loadLabelContent(reader, lot, place);
  const pack = (await findRecord(reader, 'pack', lot.code))?.body;
  if (!content || !pack) return refused('no-record', `${lot.code} has no record to print from.`);
  const story = await loadPackStory(reader, pack, house?.volumes ?? 'gal');
  return {
    count: Math.min(lot.jars ?? 0, maxPapers),
    paper: {
      maker: content.maker.name,
      product: content.product,
      ...(content.bilingual ? { productFr: content.productFr, storyFr: storySentencesFr(story) } : {}),
      lot: lot.code,
      packed: packedText(content.packedOn),
      story: storySentences(story),
      look: await loadLabelLook(reader, house, {}),
      practice: content.practice,
    },
  };
}

/** More than a household cuts out in an evening. */
const maxPapers = 500;
