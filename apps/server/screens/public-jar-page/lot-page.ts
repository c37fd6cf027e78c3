import { packState } from '#libs/actions/jars/jar-states.js';
import { loadJudgingContext } from '#libs/actions/judging/judge-now.js';
import { loadLabelContent } from '#libs/actions/labels/label-content.js';
import { loadRecallHazard } from '#libs/actions/recall/recall-entries.js';
import { lotNotice } from '#libs/labels/content/jar-notice.js';
import { jarPage } from '#libs/labels/content/static-jar-page.js';
import { textIn } from '#libs/records/kinds/supporting-record.js';
import { housesOf } from '#libs/store/household/houses.js';
import { findLot, recordsAbout } from '#libs/store/queries/lots.js';
import type { Principal } from '../../http/principal.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/**
 * The label content of a lot, for anyone with its GS1 Digital Link. Lot codes are easily guessed, so only a lot whose
 * labels were printed with this very number has such a page.
 */
export async function publicLotPage(
  { server, writeContext: context }: Principal,
  gtin: string,
  code: string,
): Promise<string | undefined> {
  const { book } = server;
  for (const { key: sugarhouse } of await housesOf(book.read)) {
    const lot = await findLot(sugarhouseReader(book.read, sugarhouse), code);
    if (lot?.kind !== 'pack' || lot.jars === undefined) continue;
    const runs = await recordsAbout(sugarhouseReader(book.read, sugarhouse), lot.code, 'labels');
    if (!runs.some(({ body }) => isSameGtin(textIn(body, 'gtin'), gtin))) continue;
    const judging = await loadJudgingContext(book.read, { ...context, sugarhouse });
    const content = await loadLabelContent(sugarhouseReader(book.read, sugarhouse), lot, judging.houseContext.place);
    if (!content) return undefined;
    const recorded = await loadRecallHazard(sugarhouseReader(book.read, sugarhouse), lot);
    return jarPage(content, { notice: lotNotice(await packState(book, judging, lot), lot.code, content, recorded) });
  }
  return undefined;
}

const isSameGtin = (one: string, other: string): boolean =>
  one !== '' && one.padStart(14, '0') === other.padStart(14, '0');
