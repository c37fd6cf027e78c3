import type { BoilBody } from '#libs/records/kinds/boil.js';
import type { Portion } from '#libs/records/portion.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findLot, findRecord } from '#libs/store/queries/lots.js';
import { syrupSources } from '#libs/store/queries/trace.js';
import { type BoilTimes, packTimeSentences, sapTimeSentences } from '#libs/syrup/rules/judge-times.js';
import { recordsForJudging } from '../judging/records-for-judging.js';

/** The times of a boil, with those of its draw-offs as recorded. */
export function boilTimes(
  lot: string,
  { beganAt, finishedAt, restedUntil }: Pick<BoilBody, 'beganAt' | 'finishedAt' | 'restedUntil'>,
  drawnAt: readonly string[],
): BoilTimes {
  const instant = (at: string | undefined): number | undefined => (at === undefined ? undefined : Date.parse(at));
  const drawn = drawnAt.map((at) => Date.parse(at));
  return {
    lot,
    beganMs: instant(beganAt),
    finishedMs: instant(finishedAt),
    restedUntilMs: instant(restedUntil),
    ...(drawn.length > 0 ? { firstDrawnMs: Math.min(...drawn) } : {}),
  };
}

/** Notes on saving a pack whose time doesn’t fit those of its boils, also through packs poured back. */
export async function packTimeNotes(
  reader: SugarhouseReader,
  { packedAt, fromLots }: { readonly packedAt: string; readonly fromLots: readonly Portion[] },
): Promise<string[]> {
  const boils = new Map<string, BoilTimes>();
  for (const { lot } of fromLots)
    for (const { code, kind } of await syrupSources(reader, lot)) {
      const body = kind === 'boil' ? (await findRecord(reader, 'boil', code))?.body : undefined;
      if (!body || boils.has(code)) continue;
      const drawOffs = (await recordsForJudging(reader, code))('draw');
      boils.set(
        code,
        boilTimes(
          code,
          body,
          drawOffs.map((each) => each.body.drawnAt),
        ),
      );
    }
  return packTimeSentences(Date.parse(packedAt), [...boils.values()]).map(asNote);
}

/** Notes on saving a boil whose sap was gathered after it ended. */
export async function sapTimeNotes(
  reader: SugarhouseReader,
  boil: { readonly lot: string; readonly finishedAt?: string | undefined; readonly gatherings: readonly Portion[] },
): Promise<string[]> {
  if (boil.finishedAt === undefined) return [];
  const sap: { lot: string; atMs: number }[] = [];
  for (const { lot } of boil.gatherings) {
    const from = await findLot(reader, lot);
    if (from) sap.push({ lot, atMs: Date.parse(from.at) });
  }
  return sapTimeSentences({ lot: boil.lot, finishedMs: Date.parse(boil.finishedAt) }, sap).map(asNote);
}

/** `packed 2 h …` → `Packed 2 h …` */
export const asNote = (sentence: string): string => sentence.charAt(0).toUpperCase() + sentence.slice(1);
