import { failedSeals } from '#libs/actions/jars/failed-seals.js';
import type { ActionBody } from '#libs/records/kinds/corrective-action.js';
import type { PackBody } from '#libs/records/kinds/pack.js';
import type { JarBalance } from '#libs/store/queries/jar-balance.js';
import { mayWrite } from '../../http/may-write.js';
import type { Principal } from '../../http/principal.js';
import { many } from '../../text/amounts.js';

/**
 * Jars with failed seals that still count as on hand. What was done with them is recorded as text (“thrown out, one
 * eaten”), which no count is taken from: they leave the balance when a dispatch or a corrective action records them.
 * Undefined where as many jars were destroyed, broken, kept or poured back, or after a count of the shelf.
 */
export function failedSealsOnHand(
  principal: Principal,
  code: string,
  { pack, actions, balance }: { pack: PackBody; actions: readonly ActionBody[]; balance: JarBalance },
) {
  const { offSale, outcomes } = failedSeals(pack, actions);
  const { destroyed, broken, kept, pouredBack } = balance.parts;
  const left = offSale - (destroyed + broken + kept + pouredBack);
  if (left <= 0 || balance.onHand <= 0 || balance.unaccounted !== null) return undefined;
  const [counts, it] = left === 1 ? ['still counts', 'it'] : ['still count', 'them'];
  return {
    sentence: `${many(left, 'jar')} whose seal failed (${outcomes.join('; ')}) ${counts} as on hand. Record ${it} as destroyed, broken or kept.`,
    href: mayWrite(principal, 'dispatch')
      ? `/dispatches/new?lot=${encodeURIComponent(code)}&kind=destroyed`
      : undefined,
  };
}
