import type { HouseBody } from '#libs/records/kinds/house.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { JarStory } from '#libs/labels/content/story-text.js';
import type { SugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';
import { findStoryPhoto, storyPhotoImage } from './story-photo.js';
import { findRecord } from '#libs/store/queries/lots.js';

/**
 * Where and when a pack's sap ran and was boiled, from its own boils and their gatherings. Only recorded facts: sap is
 * summed where every boil has a volume, and bought sap is named as such.
 */
export async function loadPackStory(
  reader: SugarhouseReader,
  pack: Pick<PackBody, 'fromLots'>,
  volumes: 'gal' | 'L',
): Promise<JarStory> {
  const slopes = new Set<string>();
  const gatheredAt: string[] = [];
  const boils: { beganAt: string; finishedAt: string | undefined; sapLitres: number | undefined }[] = [];
  let isBought = false;
  for (const { lot } of pack.fromLots) {
    const boil = (await findRecord(reader, 'boil', lot))?.body;
    if (!boil) {
      isBought ||= (await findRecord(reader, 'receipt', lot)) !== undefined;
      continue;
    }
    for (const portion of boil.gatherings) {
      const gathering = (await findRecord(reader, 'gathering', portion.lot))?.body;
      if (gathering?.source) slopes.add(gathering.source);
      if (gathering) gatheredAt.push(gathering.gatheredAt);
      else isBought ||= (await findRecord(reader, 'receipt', portion.lot)) !== undefined;
    }
    const { beganAt, finishedAt, sapVolume } = boil;
    boils.push({ beganAt, finishedAt, sapLitres: sapVolume && sapVolume.millilitres / 1000 });
  }
  const sap = boils.map(({ sapLitres }) => sapLitres);
  const isWhole = boils.length === pack.fromLots.length && sap.length > 0 && sap.every((each) => each !== undefined);
  return {
    slopes: [...slopes],
    gathered: timeSpan(gatheredAt),
    boiled: timeSpan(boils.flatMap(({ beganAt, finishedAt }) => [beganAt, finishedAt ?? beganAt])),
    sap: isWhole
      ? roundedAmount(
          sap.reduce((sum, each) => sum + each, 0),
          volumes,
        )
      : undefined,
    isBought,
  };
}

/** The story on the jar's public page; undefined unless the maker turned it on. */
export async function loadPublicStory(
  reader: SugarhouseReader,
  pack: Pick<PackBody, 'fromLots'>,
  house: HouseBody | undefined,
): Promise<JarStory | undefined> {
  if (house?.jarStory !== 'yes') return undefined;
  return { ...(await loadPackStory(reader, pack, house.volumes)), photo: await findStoryPhoto(reader) };
}

/** The photo on that page; undefined where the story isn't shown. */
export async function publicStoryPhoto(reader: SugarhouseReader): Promise<Buffer | undefined> {
  const house = (await findRecord(reader, 'house', 'house'))?.body;
  return house?.jarStory === 'yes' ? storyPhotoImage(reader) : undefined;
}

function timeSpan(times: readonly string[]): JarStory['gathered'] {
  const sorted = [...times].sort();
  const [from, until] = [sorted[0], sorted.at(-1)];
  return from !== undefined && until !== undefined ? { from, until } : undefined;
}

const litresInGallon = 3.785411784;
const roundedAmount = (litres: number, unit: 'gal' | 'L'): { amount: number; unit: 'gal' | 'L' } => ({
  amount: Math.round(unit === 'gal' ? litres / litresInGallon : litres),
  unit,
});
