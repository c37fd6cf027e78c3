import { loadSugarhouseContext } from '#libs/actions/record/write-context.js';
import { unknown, type Refusal } from '#libs/actions/record/problem.js';
import { lookUpLot } from '#libs/actions/record/references.js';
import { caseTag, holdTag, shelfTag, type Tag, trayCard, vesselTag } from '#libs/labels/content/tags.js';
import { lastLotEntries } from '#libs/store/log/lot-entries.js';
import { findEntry } from '#libs/store/log/log.js';
import { findRecord, type Lot, recordsAbout } from '#libs/store/queries/lots.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** A card for a lot: on its tray, vessel, case or shelf, or the one that says it is held. */
export async function tagsOf(principal: Principal, code: string, kind: string): Promise<{ tags: Tag[] } | Refusal> {
  const { read } = principal.book;
  const lot = await lookUpLot(sugarhouseReader(read, principal.writeContext.sugarhouse), code);
  if (!lot) return unknown('lot', code);
  const { house } = await loadSugarhouseContext(read, principal.writeContext);
  const named = { lot: lot.code, practice: principal.practice || house?.practice === true };
  const tag = await tagOf(principal, lot, kind, named);
  return tag ? { tags: [tag] } : unknown('card of this lot', kind);
}

interface Named {
  readonly lot: string;
  readonly practice: boolean;
}

async function tagOf(principal: Principal, lot: Lot, kind: string, named: Named): Promise<Tag | undefined> {
  const packed = { container: lot.container ?? '', packedOn: lot.at.slice(0, 10) };
  if (kind === 'vessel' && lot.kind === 'boil') return vesselOf(principal, lot, named);
  if (lot.kind !== 'pack') return undefined;
  if (kind === 'tray') return trayCard({ ...named, ...packed, by: principal.writeContext.by });
  if (kind === 'shelf') return shelfTag({ ...named, ...packed, grade: lot.verdict?.colour ?? null });
  if (kind === 'case') return caseTag({ ...named, ...packed, jars: `1 to ${lot.jars ?? 0}`, count: lot.jars ?? 0 });
  return kind === 'hold' && lot.state === 'held' ? heldTag(principal, lot, named) : undefined;
}

async function heldTag(principal: Principal, lot: Lot, named: Named): Promise<Tag> {
  const held = await lastLotEntries(readerOf(principal), lot.code, ['hold']);
  const entry = held && (await findEntry(principal.book.read, held.seq));
  const stop = lot.verdict?.findings.find((finding) => finding.stop);
  const why = entry?.why ?? (stop ? `found ${stop.found}; limit ${stop.limit}` : '');
  return holdTag({
    ...named,
    why,
    by: entry?.by ?? principal.writeContext.by,
    on: (lot.heldSince ?? lot.at).slice(0, 10),
  });
}

async function vesselOf(principal: Principal, lot: Lot, named: Named): Promise<Tag | undefined> {
  const { read } = principal.book;
  const boil = (await findRecord(sugarhouseReader(read, principal.writeContext.sugarhouse), 'boil', lot.code))?.body;
  if (!boil) return undefined;
  const draws = await recordsAbout(sugarhouseReader(read, principal.writeContext.sugarhouse), lot.code, 'draw');
  return vesselTag({
    ...named,
    vessel: draws.map((each) => each.body.vessel).find(Boolean) ?? '',
    volume: boil.syrupVolume?.typed ?? '',
    restingSince: boil.restedFrom?.slice(0, 16).replace('T', ' '),
    from: boil.gatherings.map((portion) => portion.lot),
    by: boil.by,
  });
}
