import { asSentence, foundAndRequired } from '#libs/format/as-sentence.js';
import type { Writable } from 'node:stream';
import type { LabelProblem } from '#libs/labels/content/label.js';
import type { LotCardName } from '#libs/labels/content/lot-card-names.js';
import { caseTag, holdTag, recallTag, shelfTag, type Tag, trayCard, vesselTag } from '#libs/labels/content/tags.js';
import { drawNeckTags, drawSealStrips } from '#libs/labels/drawing/draw-jar-paper.js';
import { drawTags } from '#libs/labels/drawing/draw-tags.js';
import type { Sql } from '#libs/store/connection/sql.js';
import { type SugarhouseReader, sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { lastLotEntries } from '#libs/store/log/lot-entries.js';
import { findEntry } from '#libs/store/log/log.js';
import { findRecord, type Lot, recordsAbout } from '#libs/store/queries/lots.js';
import { type Refusal, unknown } from '../record/problem.js';
import { judgeLotNow, loadJudgingContext } from '../judging/judge-now.js';
import { lookUpLot } from '../record/references.js';
import { loadSugarhouseContext, type WriteContext } from '../record/write-context.js';
import { loadJarPaper } from './jar-paper.js';
import { labelRefusal } from './plan-labels.js';

export interface LotCards {
  readonly lot: string;
  readonly draw: (out: Writable) => Promise<{ readonly pages: number } | Refusal>;
}

/**
 * Cards of a lot as a PDF on letter paper. For what goes on jars, refused where its labels would be; a card that the
 * lot can't have (a vessel tag for a pack, a HELD card for one that is not held) is `unknown`.
 */
export async function planLotCards(
  sql: Sql,
  context: WriteContext,
  code: string,
  name: LotCardName,
): Promise<LotCards | Refusal> {
  if (name === 'neck' || name === 'seal') {
    const sheet = await loadJarPaper(sql, context, code);
    if ('problem' in sheet) return sheet;
    const draw = name === 'neck' ? drawNeckTags : drawSealStrips;
    return {
      lot: sheet.paper.lot,
      draw: async (out) => pagesOrRefusal(await draw({ ...sheet, createdAt: context.now }, out)),
    };
  }
  const reader = sugarhouseReader(sql, context.sugarhouse);
  const named = await lookUpLot(reader, code);
  if (!named) return unknown('lot', code);
  // The index may hold an older verdict, and a card without a stamp says that the lot may go out.
  const lot = (await judgeLotNow(await loadJudgingContext(sql, context), named.code)) ?? named;
  const { house } = await loadSugarhouseContext(sql, context);
  const tag = await buildCard(reader, lot, name, {
    lot: lot.code,
    practice: house?.practice === true,
    stopped: lot.state === 'held' ? 'HELD' : lot.state === 'recalled' ? 'RECALLED' : undefined,
  });
  if (!tag) return unknown(`${name} card of`, lot.code);
  const sheet = { tags: [tag], page: 'letter' as const, createdAt: context.now };
  return { lot: lot.code, draw: async (out) => pagesOrRefusal(await drawTags(sheet, out)) };
}

const pagesOrRefusal = (drawn: { pages: number } | { problem: LabelProblem }): { pages: number } | Refusal =>
  'problem' in drawn ? labelRefusal(drawn.problem) : drawn;

interface CardDetails {
  readonly lot: string;
  readonly practice: boolean;
  readonly stopped: 'HELD' | 'RECALLED' | undefined;
}

async function buildCard(
  reader: SugarhouseReader,
  lot: Lot,
  name: LotCardName,
  details: CardDetails,
): Promise<Tag | undefined> {
  const packed = { container: lot.container ?? '', packedOn: lot.at.slice(0, 10) };
  if (name === 'vessel' && lot.kind === 'boil') return vesselCard(reader, lot, details);
  if (lot.kind !== 'pack') return undefined;
  if (name === 'tray') {
    const by = (await findRecord(reader, 'pack', lot.code))?.body.by;
    return trayCard({ ...details, ...packed, by: by || 'not recorded' });
  }
  if (name === 'shelf') return shelfTag({ ...details, ...packed, grade: lot.verdict?.colour ?? null });
  if (name === 'case') return caseTag({ ...details, ...packed, count: lot.jars });
  if (name !== 'hold') return undefined;
  if (lot.state === 'recalled') return recalledCard(reader, lot, details);
  return lot.state === 'held' ? heldCard(reader, lot, details) : undefined;
}

/** Who holds it and why: the person who held it since the last release, and each rule that holds it. */
async function heldCard(reader: SugarhouseReader, lot: Lot, details: CardDetails): Promise<Tag> {
  const last = await lastLotEntries(reader, lot.code, ['hold', 'release']);
  const entry = last?.entryType === 'hold' ? await findEntry(reader.sql, last.seq) : undefined;
  const stops = lot.verdict?.findings.filter((finding) => finding.stop) ?? [];
  const waits = lot.verdict?.awaitsRelease ? ['waits for a release'] : [];
  const why = [...(entry ? [asSentence(entry.why ?? 'reason not recorded')] : []), ...stops.map(foundAndRequired)];
  return holdTag({
    ...details,
    why: (why.length > 0 ? why : waits).join(' ') || 'not recorded',
    by: entry?.by ?? `by the rule${stops.length > 1 ? 's' : ''}`,
    on: (entry?.happenedAt ?? lot.heldSince ?? lot.at).slice(0, 10),
  });
}

async function recalledCard(reader: SugarhouseReader, lot: Lot, details: CardDetails): Promise<Tag> {
  const last = await lastLotEntries(reader, lot.code, ['recall']);
  const entry = last && (await findEntry(reader.sql, last.seq));
  return recallTag({
    ...details,
    why: asSentence(entry?.why ?? 'reason not recorded'),
    by: entry?.by ?? 'not recorded',
    on: entry?.happenedAt.slice(0, 10) ?? 'day not recorded',
  });
}

async function vesselCard(reader: SugarhouseReader, lot: Lot, details: CardDetails): Promise<Tag | undefined> {
  const boil = (await findRecord(reader, 'boil', lot.code))?.body;
  if (!boil) return undefined;
  const draws = await recordsAbout(reader, lot.code, 'draw');
  return vesselTag({
    ...details,
    vessel: draws.map((each) => each.body.vessel).find(Boolean) ?? '',
    volume: boil.syrupVolume?.typed ?? '',
    restingSince: boil.restedFrom?.slice(0, 16).replace('T', ' '),
    restedUntil: boil.restedUntil?.slice(0, 16).replace('T', ' '),
    from: boil.gatherings.map((portion) => portion.lot),
    by: boil.by,
  });
}
