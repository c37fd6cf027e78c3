import { boilsAbove, unansweredAbove } from './invent-moves.js';
import { type ExpectedLot, type Pack, withOffset } from './invented.js';

/** The expected summary of a pack, from simple sums over its events. */
export function expectedOf(pack: Pack): ExpectedLot {
  const sum = (...kinds: string[]): number =>
    pack.moves.filter((move) => kinds.includes(move.kind)).reduce((jars, move) => jars + move.jars, 0);
  const jarsSentOut = sum('sale', 'gift') - sum('returned');
  const jarsDestroyed = sum('destroyed');
  const jarsOther = sum('sample', 'kept', 'retained', 'broken', 'returned') + pack.pouredBack;
  const stops = new Set([...pack.stops, ...(unansweredAbove(pack) ? ['defoamer-allergens'] : [])]);
  return {
    lot: pack.code,
    boils: boilsAbove(pack)
      .map((boil) => boil.code)
      .sort(),
    packedAt: withOffset(pack.packedAt),
    container: pack.container.typed,
    jarsMade: pack.jars,
    jarsOnHand: pack.jars - jarsSentOut - jarsDestroyed - jarsOther - pack.missing,
    jarsSentOut,
    jarsDestroyed,
    jarsOther,
    unaccounted: pack.count ? pack.missing : null,
    lowestFillTyped: pack.lowestFill,
    brix: pack.brix,
    brixWithin: pack.brixWithin,
    colour: pack.colour,
    status: stops.size > 0 ? 'held' : 'open',
    // Once every jar was destroyed no rule holds it any more; the lot stays held until somebody releases it.
    stops: jarsDestroyed === pack.jars ? [] : [...stops].sort(),
    shortRest: boilsAbove(pack).some((boil) => boil.shortRest),
  };
}
