import { findRecord, type Lot } from '#libs/store/queries/lots.js';
import { drawnFrom } from '#libs/store/queries/trace.js';
import type { BoilFacts } from '#libs/syrup/rules/judge-boils.js';
import { loadAllergensByActions } from './allergens-by-actions.js';
import { boilTimes } from './boil-times.js';
import { loadDefoamerFacts } from './defoamer-facts.js';
import type { JudgingContext } from '../judging/judging-context.js';
import { type PanResidue, loadPanResidueLookup } from './pan-residue.js';
import { recordsForJudging } from '../judging/records-for-judging.js';

/**
 * Loads what a pack is judged by of its boils: defoamers, filtering, times, volumes. Boils are loaded one after another,
 * since a write has one connection.
 */
export async function loadBoilFacts(
  judging: JudgingContext,
  pack: string,
  boils: readonly Lot[],
  allergensAnsweredLater: string,
): Promise<BoilFacts[]> {
  const panResidueOf = await loadPanResidueLookup(judging, boils);
  const byActions = await loadAllergensByActions(judging, pack, boils);
  const facts: BoilFacts[] = [];
  for (const boil of boils)
    facts.push({
      ...(await loadFactsOfBoil(judging, boil, allergensAnsweredLater, panResidueOf)),
      allergensByActions: byActions.get(boil.code),
    });
  return facts;
}

async function loadFactsOfBoil(
  { sql, sugarhouse }: JudgingContext,
  boil: Lot,
  allergensAnsweredLater: string,
  panResidueOf: (boil: Lot) => PanResidue,
): Promise<BoilFacts> {
  const body = (await findRecord({ sql, sugarhouse }, 'boil', boil.code))?.body;
  const drawOffs = (await recordsForJudging({ sql, sugarhouse }, boil.code))('draw');
  const filters = [
    ...(body?.filterTemp || body?.filterMedium ? [{ temperature: body.filterTemp, medium: body.filterMedium }] : []),
    ...drawOffs.map((each) => ({ temperature: each.body.filterTemp, medium: each.body.filterMedium })),
  ];
  return {
    lot: boil.code,
    defoamer: body?.defoamer ?? '',
    defoamerAllergens: body?.defoamerAllergens ?? '',
    allergensLater: allergensAnsweredLater,
    ...(await loadDefoamerFacts({ sql, sugarhouse }, boil, body, panResidueOf)),
    filters,
    ...(body
      ? boilTimes(
          boil.code,
          body,
          drawOffs.map((each) => each.body.drawnAt),
        )
      : {}),
    restedFromMs: body?.restedFrom === undefined ? undefined : Date.parse(body.restedFrom),
    syrupMl: boil.millilitres,
    drawnInAllMl: await drawnFrom({ sql, sugarhouse }, boil.code),
  };
}
