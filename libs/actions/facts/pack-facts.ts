import type { Lot } from '#libs/store/queries/lots.js';
import { flowsInto, ofKind } from '#libs/store/queries/trace.js';
import { utcOf } from '#libs/store/connection/instants.js';
import { hydrometerTemperature } from '#libs/syrup/instruments/hydrometer-temperature.js';
import type { FillFacts } from '#libs/syrup/rules/judge-fill.js';
import type { PackFacts } from '#libs/syrup/rules/judge-pack.js';
import { loadBoilFacts } from './boil-facts.js';
import { boughtSyrupFacts } from './defoamer-facts.js';
import { countSentOut } from '../judging/dispatch-findings.js';
import { loadFillFacts } from './fill-facts.js';
import { glassFacts } from './glass-upstream.js';
import type { JudgingContext } from '../judging/judging-context.js';
import type { CurrentPack } from './pack-after-actions.js';
import { loadPouredProducts } from './poured-products.js';
import { loadSpoilageFacts } from './spoilage-facts.js';
import { loadSuspectDensities } from './suspect-density.js';
import { thinPacksPoured } from './thin-poured.js';

/** A pack to judge: its record after corrective actions, when it was packed (ISO), and the lots that its syrup came from. */
interface PackToJudge {
  readonly lot: Lot;
  readonly packedAt: string;
  readonly pack: CurrentPack;
  readonly upstream: readonly Lot[];
}

/** Loads all that a pack is judged by, except what holds it for another lot or for its labels. */
export async function loadPackFacts(
  judging: JudgingContext,
  { lot, packedAt, pack, upstream }: PackToJudge,
): Promise<PackFacts & Pick<FillFacts, 'actions'>> {
  const { sql, sugarhouse, houseContext } = judging;
  const fill = await loadFillFacts(judging, lot, pack);
  return {
    place: houseContext.place,
    container: pack.container,
    ...fill,
    hotPackTemp: pack.hotPackTemp,
    packedMs: Date.parse(packedAt),
    ...(await glassFacts(judging, pack, lot)),
    ...(await densityFacts(judging, pack, fill)),
    sealsFailed: pack.sealsFailed ?? null,
    sealsOutcome: pack.sealsOutcome,
    sentOut: pack.sealsFailed ? await countSentOut(judging, lot.code) : 0,
    sealsAfterMs: pack.sealsAt === undefined ? undefined : Date.parse(pack.sealsAt) - Date.parse(pack.wholeFilledAt),
    containerPrep: pack.containerPrep || (pack.benchReady?.includes('jars-hot') ? 'jars hot' : ''),
    transmittance: pack.transmittance,
    colourClass: pack.colourClass,
    clarity: pack.clarity,
    offFlavour: pack.offFlavour,
    drawnMl: (await flowsInto({ sql, sugarhouse }, lot.code)).reduce((sum, flow) => sum + flow.millilitres, 0),
    boils: await loadBoilFacts(judging, lot.code, ofKind(upstream, 'boil'), pack.defoamerAllergens),
    bought: await boughtSyrupFacts(judging, pack, upstream),
    product: pack.product,
    note: pack.note,
    thinPoured: await thinPacksPoured(judging, pack, upstream),
    pouredFrom: await loadPouredProducts(judging, ofKind(upstream, 'pack')),
    spoilage: await loadSpoilageFacts(judging, lot, upstream, utcOf(houseContext.parseOptions.now)),
  };
}

/** The densities of the pack and of jars packed again, each with the checks that make its instrument suspect. */
async function densityFacts(
  { sql, sugarhouse, houseContext }: JudgingContext,
  pack: CurrentPack,
  { thermometers }: Pick<FillFacts, 'thermometers'>,
): Promise<Pick<PackFacts, 'density' | 'densityBeforeLastBoilUp' | 'parts'>> {
  const suspect = await loadSuspectDensities({ sql, sugarhouse }, thermometers);
  const hydrometersMadeFor = hydrometerTemperature(houseContext.house?.hydrometerMadeFor);
  const density = pack.densityReading && {
    reading: pack.densityReading,
    sampleAt: pack.densityAt,
    by: pack.densityBy,
    calibratedAt: pack.densityCalibratedAt,
    hydrometersMadeFor,
  };
  return {
    density: density && { ...density, ...suspect(density, pack.densityReadWith) },
    densityBeforeLastBoilUp: pack.densityIsStale,
    parts: pack.parts.map((part) =>
      part.density
        ? { ...part, density: { ...part.density, hydrometersMadeFor, ...suspect(part.density, part.density) } }
        : part,
    ),
  };
}
