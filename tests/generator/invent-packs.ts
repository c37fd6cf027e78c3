import type { Random } from './random.js';
import { clock, type Boil, containers, dayOfYear, marchDay, type Pack, quart, type Source } from './invented.js';

/** Packs of every boil, an occasional blend, and cold ones poured back and packed again. */
export function inventPacks(random: Random, boils: readonly Boil[], receipts: readonly string[]): Pack[] {
  const packs: Pack[] = [];
  boils.forEach((boil, n) => {
    const runs = random.whole(1, 2);
    for (let run = 1; run <= runs && boil.leftQuarts > 2; run++) {
      const quarts = run === runs ? Math.max(2, boil.leftQuarts - random.whole(0, 3)) : Math.ceil(boil.leftQuarts / 2);
      packs.push(pack(random, [fromBoil(random, boil, quarts)], dayAfter(boil), 8 * 60 + run * 90 + (n % 60)));
    }
    // The remains of two boils are packed together, occasionally with bought syrup.
    const other = boils[n - 1];
    if (other && other.leftQuarts > 0 && boil.leftQuarts > 0) {
      const sources = [fromBoil(random, other, other.leftQuarts), fromBoil(random, boil, boil.leftQuarts)];
      if (random.oneIn(3)) sources.push({ receipt: random.of(receipts), typed: '1 qt', millilitres: quart });
      packs.push(pack(random, sources, dayAfter(boil), 13 * 60 + (n % 60)));
    }
  });
  for (const cold of packs.filter((each) => each.stops.size === 1 && each.stops.has('fill-temperature')))
    if (random.oneIn(2)) packs.push(packedAgain(random, cold));
  packs.sort((a, b) => (a.packedAt < b.packedAt ? -1 : a.packedAt > b.packedAt ? 1 : 0));
  packs.forEach((each, n) => name(random, packs.slice(0, n), each, n));
  return packs;
}

const dayAfter = (boil: Boil): number => dayOfYear(boil.beganAt) - 60 + 1;

function fromBoil(random: Random, boil: Boil, quarts: number): Source {
  boil.leftQuarts -= quarts;
  return { boil, typed: random.oneIn(2) ? `${quarts} qt` : `${quarts / 4} gal`, millilitres: quarts * quart };
}

/** All jars of a pack that was filled too cold, reheated and packed again the day after. */
function packedAgain(random: Random, cold: Pack): Pack {
  const millilitres = cold.jars * cold.container.millilitres;
  cold.pouredBack = cold.jars;
  const day = dayOfYear(cold.packedAt) - 60 + 1;
  const minute = Number(cold.packedAt.slice(11, 13)) * 60 + Number(cold.packedAt.slice(14, 16));
  // Its volume as written is exact to the microlitre, so that the number of jars comes out whole.
  const source = { pack: cold, typed: `${(millilitres / 1000).toFixed(9)} L`, millilitres };
  return pack(random, [source], day, minute + 7, 'well');
}

function pack(random: Random, sources: Source[], day: number, minute: number, lot = random.of(fates)): Pack {
  const container = random.of(containers);
  const drawn = sources.reduce((sum, each) => sum + each.millilitres, 0);
  const full = Math.floor(drawn / container.millilitres);
  const jars =
    lot === 'overfull'
      ? Math.ceil((drawn * 1.08) / container.millilitres) + 1
      : Math.max(1, full - (full > 4 ? random.whole(0, 1) : 0));
  const made: Pack = {
    code: '',
    ownId: '',
    packedAt: `${marchDay(day)}T${clock(minute)}`,
    sources,
    container,
    row: {},
    jars,
    stops: new Set(),
    lowestFill: '186 F',
    brix: 67.4,
    brixWithin: 0,
    colour: null,
    moves: [],
    count: undefined,
    missing: 0,
    pouredBack: 0,
  };
  made.row = {
    packed_at: made.packedAt,
    hot_pack_temp: random.of(['190 F', '88C', '']),
    density_reading: '67.4 Bx',
    density_at: '68 F',
    density_by: random.of(['refractometer', 'refractometer-atc', 'REFRACTOMETER']),
    container: container.typed,
    container_prep: random.of(['boiled 10 min, filled hot', 'oven 225 F', '']),
    jars: String(jars),
    fill_temps: random.of(['188 F;186 F;187 F', '186 F@14:10#T1;190°F', '89,5C;186 F;87 C#T2']),
    seals_failed: random.of(['0', '', '0']),
    seals_outcome: '',
    by: random.of(['WE', 'OE', 'JP']),
    note: random.of(['', 'all hands', 'the "good" ladle']),
  };
  colour(random, made);
  befall(random, made, lot);
  return made;
}

/** By transmittance at 560 nm (US grade standard): 75 and more Golden, 50 Amber, 25 Dark, less Very Dark. */
function colour(random: Random, made: Pack): void {
  const [percent, byLight] = random.of([
    ['75', 'Golden'],
    ['74.9', 'Amber'],
    ['50', 'Amber'],
    ['49.9', 'Dark'],
    ['25.0', 'Dark'],
    ['24.9', 'Very Dark'],
    ['3', 'Very Dark'],
  ] as const);
  const [text, byWords] = random.of([
    ['amber', 'Amber'],
    ['Very Dark', 'Very Dark'],
    ['', null],
  ] as const);
  const light = random.oneIn(2);
  made.row['transmittance'] = light ? `${percent}%` : '';
  made.row['colour_class'] = text;
  made.colour = light ? byLight : byWords;
}

const fates = [
  'well',
  'well',
  'well',
  'well',
  'well',
  'well',
  'well',
  'cold F',
  'cold C',
  'just F',
  'just C',
  'fill not read',
  'density not read',
  'thin',
  'hardly thin',
  'thick',
  'float',
  'Baumé',
  'seals',
  'seals seen to',
  'sour',
  'hazy',
  'overfull',
] as const;

/** Applies an event to a pack: changes its row and the expected result. */
function befall(random: Random, made: Pack, fate: (typeof fates)[number]): void {
  const set = (row: Record<string, string>, expected: Partial<Pack> = {}, stop?: string): void => {
    Object.assign(made.row, row);
    Object.assign(made, expected);
    if (stop) made.stops.add(stop);
  };
  switch (fate) {
    case 'well':
      return set({});
    case 'cold F':
      return set({ fill_temps: '188 F;179.9 F;186 F' }, { lowestFill: '179.9 F' }, 'fill-temperature');
    case 'cold C':
      return set({ fill_temps: '88C;81.9 C@11:05' }, { lowestFill: '81.9 C' }, 'fill-temperature');
    case 'just F':
      return set({ fill_temps: '188 F;180 F' }, { lowestFill: '180 F' });
    case 'just C':
      return set({ fill_temps: '82C;188 F' }, { lowestFill: '82C' });
    case 'fill not read':
      return set({ fill_temps: '' }, { lowestFill: null }, 'fill-not-read');
    case 'density not read':
      return set({ density_reading: '', density_at: '', density_by: '' }, { brix: null }, 'density-not-read');
    case 'thin':
      return set({ density_reading: '66.4 Bx' }, { brix: 66.4 }, 'density-too-thin');
    case 'hardly thin':
      return set({ density_reading: '66.8 Bx' }, { brix: 66.8 }, 'density-measure-again');
    case 'thick':
      return set({ density_reading: '69.4Bx' }, { brix: 69.4 }, 'density-too-thick');
    case 'float':
      return set(
        {
          density_reading: '67.6 Bx',
          density_at: '60 F',
          density_by: '',
          density_calibrated_at: random.of(['60F', '']),
        },
        { brix: 67.6 },
      );
    // Between published pairs, 66.9 °Bx = 36.0 °Bé and 68.9 = 37.0 (extension tables, read): 36.3 is 67.5.
    case 'Baumé':
      return set(
        { density_reading: '36.3 Be', density_at: '60 F', density_by: 'hydrometer' },
        { brix: 67.5, brixWithin: 0.1 },
      );
    case 'seals':
      return set({ seals_failed: '1', seals_outcome: '' }, {}, 'seals-failed');
    case 'seals seen to':
      return set({ seals_failed: '1', seals_outcome: 'kept cold, used at home' });
    case 'sour':
      return set({ off_flavour: 'scorched' }, {}, 'off-flavour');
    case 'hazy':
      return set({ clarity: 'a little haze' }, {}, 'cloudy');
    case 'overfull':
      return set({}, {}, 'more-in-jars-than-drawn');
  }
}

/** Its code by the naming rule: the one boil and the run, else the day's X; and the names that its row uses. */
function name(random: Random, earlier: readonly Pack[], made: Pack, n: number): void {
  const from = new Set(made.sources.flatMap(syrupOf));
  const [only = ''] = from;
  const stem =
    from.size === 1 && !only.startsWith('R') ? only : `26${String(dayOfYear(made.packedAt)).padStart(3, '0')}X`;
  made.code = `${stem}-${earlier.filter((each) => each.code.startsWith(`${stem}-`)).length + 1}`;
  made.ownId = random.oneIn(4) ? `P${n + 1}` : '';
  made.row['lot'] = random.oneIn(2) ? made.code : '';
  made.row['id'] = made.ownId;
  made.row['from_lots'] = made.sources.map((each) => `${nameOf(random, each)}:${each.typed}`).join(';');
}

const syrupOf = (source: Source): string[] =>
  source.pack ? source.pack.sources.flatMap(syrupOf) : [source.boil?.code ?? source.receipt ?? ''];

const nameOf = (random: Random, { boil, pack: poured, receipt }: Source): string => {
  const lot = boil ?? poured;
  if (!lot) return receipt ?? '';
  return lot.ownId && random.oneIn(2) ? lot.ownId : random.oneIn(4) ? lot.code.toLowerCase() : lot.code;
};
