import type { Random } from '../../generator/random.js';
import type { Model, Operation } from './model.js';
import type { Way } from './send-operation.js';

/**
 * The next operation, mostly on existing lots, occasionally on one that doesn't exist. `n` is new in every operation.
 */
export function drawOperation(random: Random, model: Model, n: number): Operation {
  const boils = [...model.boils.keys()];
  const packs = [...model.packs.keys()];
  if (boils.length === 0) return { what: 'boil', id: `B${n}` };
  if (packs.length === 0) return packOf(random, boils, n);
  const pack = random.of(packs);
  const lot = random.oneIn(12) ? '26099A' : random.oneIn(3) ? random.of(boils) : pack;
  const { jars, gone, hasActed } = model.packs.get(pack)!;
  const sent = [...model.dispatches.keys()];
  switch (random.whole(0, 15)) {
    case 0:
      return { what: 'gather', id: `G${n}`, gallons: random.whole(1, 400) };
    case 1:
      return boils.length < 6 ? { what: 'boil', id: `B${n}` } : { what: 'count', id: `C${n}`, pack, jars: 1 };
    case 2:
    case 3:
      return packOf(random, boils, n);
    case 4:
    case 5: {
      // Readings after an action are of other jars than the model knows.
      if (hasActed) return { what: 'act', pack, jars };
      return { what: random.oneIn(2) ? 'add fill' : 'correct fill', pack, fill: fillOf(random, n) };
    }
    case 6:
    case 7:
      return { what: 'hold', lot };
    case 8:
    case 9:
    case 10:
      return { what: 'release', lot };
    case 11:
      return random.oneIn(2) ? { what: 'recall', lot } : { what: 'release', lot };
    case 12:
      return { what: 'act', pack, jars };
    case 13:
      return { what: 'count', id: `C${n}`, pack, jars: random.whole(0, jars) };
    default:
      if (sent.length > 0 && random.oneIn(3)) return { what: 'void', dispatch: random.of(sent) };
      if (gone >= jars) return { what: 'hold', lot: pack };
      return {
        what: 'send',
        id: `S${n}`,
        pack,
        jars: random.whole(1, Math.min(3, jars - gone)),
        hasLeft: random.oneIn(3),
      };
  }
}

function packOf(random: Random, boils: readonly string[], n: number): Operation {
  const fill = random.oneIn(5) ? '' : fillOf(random, n);
  return {
    what: 'pack',
    id: `P${n}`,
    boil: random.of(boils),
    jars: random.whole(4, 12),
    fill,
    isThin: random.oneIn(6),
  };
}

/** No two are the same, so that each correction changes something. */
function fillOf(random: Random, n: number): string {
  const degrees = random.oneIn(3) ? random.whole(170, 178) : random.whole(183, 195);
  return `${degrees}.${n} F`;
}

/** A way in for this operation. A quick command can't add to a record or recall a lot. */
export function drawWay(random: Random, of: Operation): Way {
  const entryPoints: Way[] = ['page', 'API', 'import', 'command'];
  return random.of(of.what === 'add fill' || of.what === 'recall' ? entryPoints.slice(0, 3) : entryPoints);
}
