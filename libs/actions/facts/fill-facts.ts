import type { Lot } from '#libs/store/queries/lots.js';
import { type CheckInterval, usualInterval } from '#libs/syrup/quantities/check-interval.js';
import type { FillFacts } from '#libs/syrup/rules/judge-fill.js';
import { destroyedByDispatch } from '../jars/destroyed-jars.js';
import type { JudgingContext } from '../judging/judging-context.js';
import type { CurrentPack } from './pack-after-actions.js';
import { loadInstruments } from './thermometers.js';

/**
 * What a pack's fill readings are judged by: the readings without instruments that read no temperature, what became of
 * the jars by corrective action or dispatch, the thermometers and the sugarhouse's interval.
 */
export async function loadFillFacts(
  judging: JudgingContext,
  lot: Lot,
  pack: CurrentPack,
): Promise<FillFacts & { readonly interval: CheckInterval; readonly gapsHold: boolean }> {
  const { thermometers, named } = await loadInstruments(judging, lot.year);
  const acted = [...pack.actions, ...(await destroyedByDispatch(judging, lot.code, pack.jars))];
  const { house } = judging.houseContext;
  return {
    jars: pack.jars ?? null,
    fills: named(pack.fillsAtFirst),
    actions: acted.map((each) => ({ ...each, fills: named(each.fills) })),
    thermometers,
    interval: house?.checkEvery ?? usualInterval,
    gapsHold: house?.gapsHold === 'yes',
  };
}
