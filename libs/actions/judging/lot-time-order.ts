import type { Portion } from '#libs/records/portion.js';
import { recordsOfKindsAbout } from '#libs/store/connection/batch-queries.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { lotsDownstream, ofKind, syrupSources } from '#libs/store/queries/trace.js';
import type { Fault } from '../record/problem.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

/** The first of the boils that syrup came from, also through packs poured back; undefined where all of it was bought. */
export async function findFirstBoil(
  reader: SugarhouseReader,
  fromLots: readonly Pick<Portion, 'lot'>[],
): Promise<{ readonly code: string; readonly at: string } | undefined> {
  const boils = new Map<string, string>();
  for (const portion of fromLots)
    for (const { code, kind } of await syrupSources(reader, portion.lot)) {
      const body = kind === 'boil' ? (await findRecord(reader, 'boil', code))?.body : undefined;
      if (body) boils.set(code, body.beganAt);
    }
  const [first] = [...boils].sort((a, b) => Date.parse(a[1]) - Date.parse(b[1]));
  return first && { code: first[0], at: first[1] };
}

/**
 * A pack is filled after each boil of its syrup began, also through packs poured back, and no day before bought syrup
 * arrived or a pack poured into it was filled.
 */
export async function packTimeFaults(
  reader: SugarhouseReader,
  pack: { readonly packedAt: string; readonly fromLots: readonly Portion[] },
): Promise<Fault[]> {
  const faults = new Map<string, Fault>();
  for (const portion of pack.fromLots)
    for (const { code, kind } of await syrupSources(reader, portion.lot)) {
      const beganAt = kind === 'boil' ? (await findRecord(reader, 'boil', code))?.body.beganAt : undefined;
      if (beganAt === undefined || Date.parse(pack.packedAt) >= Date.parse(beganAt)) continue;
      const expected = `a time after boil ${code} began, ${beganAt}: is the date wrong, or the boil?`;
      faults.set(code, { field: 'packedAt', expected, got: `"${pack.packedAt}"` });
    }
  for (const { lot } of pack.fromLots) {
    const source = await findLot(reader, lot);
    if (source?.kind !== 'receipt' && source?.kind !== 'pack') continue;
    const day = source.at.slice(0, 10);
    if (pack.packedAt.slice(0, 10) >= day) continue;
    const expected = `a day on or after ${day}, when ${lot} was ${source.kind === 'receipt' ? 'received' : 'packed'}: is the date wrong, or that one?`;
    faults.set(lot, { field: 'packedAt', expected, got: `"${pack.packedAt}"` });
  }
  return [...faults.values()];
}

/** A boil began before each pack that its syrup went into was filled. */
export async function boilTimeFaults(reader: SugarhouseReader, boil: string, beganAt: string): Promise<Fault[]> {
  const faults: Fault[] = [];
  for (const { code } of ofKind(await lotsDownstream(reader, boil), 'pack')) {
    const packedAt = (await findRecord(reader, 'pack', code))?.body.packedAt;
    if (packedAt === undefined || Date.parse(packedAt) >= Date.parse(beganAt)) continue;
    const expected = `a time before ${code} was packed from it, ${packedAt}: is the date wrong, or the pack’s?`;
    faults.push({ field: 'beganAt', expected, got: `"${beganAt}"` });
  }
  return faults;
}

/**
 * A pack whose time moves past what was done with its jars: one of the two times is wrong, and a corrective action
 * dated before its pack could clear jars that were filled after it. Records that were already earlier stay as they are.
 */
export async function recordTimeFaults(
  reader: SugarhouseReader,
  pack: { readonly code: string; readonly before: string; readonly packedAt: string },
): Promise<Fault[]> {
  if (Date.parse(pack.packedAt) <= Date.parse(pack.before)) return [];
  const about = await recordsOfKindsAbout(reader, pack.code, ['action', 'dispatch', 'count']);
  const nowTooEarly = [...about('action'), ...about('dispatch'), ...about('count')]
    .filter(({ at }) => Date.parse(at) >= Date.parse(pack.before) && Date.parse(at) < Date.parse(pack.packedAt))
    .sort((one, other) => Date.parse(one.at) - Date.parse(other.at));
  const [first] = nowTooEarly;
  if (!first) return [];
  const noun = first.kind === 'action' ? 'corrective action' : first.kind;
  const when = first.at.slice(0, 16).replace('T', ' ');
  const expected = `a time before ${noun} ${first.id} (${when}); if that time is wrong, correct it first`;
  return [{ field: 'packedAt', expected, got: `"${pack.packedAt}"` }];
}
