import { parseVolume } from '#libs/syrup/quantities/quantities.js';
import { type Random, randomFrom } from './random.js';
import { csvText } from './csv-text.js';
import { expectedOf } from './expected-lot.js';
import { type Boil, clock, dayOfYear, type Invented, letter, marchDay } from './invented.js';
import { inventPacks } from './invent-packs.js';
import { inventMoves } from './invent-moves.js';

type Row = Record<string, string>;

/**
 * A season at Tamarack Hollow, invented from a seed: so many boils, with the gatherings before them and everything
 * after, as the files a maker would keep, and the correct summary of each lot.
 */
export function inventSeason(seed: number, howManyBoils: number): Invented {
  const random = randomFrom(seed);
  const gatherings: Row[] = [];
  const receipts: Row[] = [];
  const draws: Row[] = [];
  const boils = inventBoils(random, howManyBoils, gatherings);
  for (let n = 1; n <= 1 + Math.floor(howManyBoils / 10); n++)
    receipts.push({
      id: `R${String(n).padStart(3, '0')}`,
      supplier: 'Bracken Lane Sugarbush',
      contact: 'Bracken Lane, Harrow Notch; the red gate',
      their_lot: `BL-${n}`,
      volume: '10 gal',
      density: '67.1 Bx',
      allergens: random.of(['none', 'none', 'milk']),
      // Before anything is packed with it.
      received_at: `2026-02-${String(random.whole(2, 20)).padStart(2, '0')}T09:00`,
      by: 'OE',
    });
  for (const boil of boils) if (random.oneIn(3)) draws.push(...inventDraws(random, boil, draws.length));
  const packs = inventPacks(
    random,
    boils,
    receipts.map((row) => row['id']!),
  );
  const { dispatches, counts } = inventMoves(random, packs);
  const file = (kind: string, rows: Row[]) => ({ kind, text: csvText(random, rows), rows: rows.length });
  const lots = packs.map(expectedOf);
  return {
    year: 2026,
    now: new Date('2026-06-20T16:00:00Z'),
    files: [
      file('gatherings', gatherings),
      file('receipts', receipts),
      file(
        'boils',
        boils.map((boil) => boil.row),
      ),
      file('draws', draws),
      file(
        'packs',
        packs.map((pack) => pack.row),
      ),
      file('dispatches', dispatches),
      file('counts', counts),
    ],
    lots,
    totals: {
      boils: boils.length,
      packs: packs.length,
      jarsMade: packs.reduce((sum, pack) => sum + pack.jars, 0),
      syrupGallons: Math.round(boils.reduce((sum, boil) => sum + boil.syrupQuarts, 0) * 25) / 100,
      held: lots.filter((lot) => lot.status === 'held').length,
    },
  };
}

function inventBoils(random: Random, many: number, gatherings: Row[]): Boil[] {
  const boils: Boil[] = [];
  const aDay = Math.ceil(many / 22);
  for (let n = 0; n < many; n++) {
    const day = 2 * Math.floor(n / aDay);
    const boil = inventBoil(random, n, day, n % aDay, aDay, boils.at(-1));
    const sap = Array.from({ length: random.whole(2, 3) }, (_, nth) =>
      inventGathering(random, gatherings.length + nth, day),
    );
    gatherings.push(...sap);
    boil.row['gatherings'] = sap
      .map((row) => (random.oneIn(2) ? row['id']! : `${row['id']}:${row['volume']}`))
      .join(';');
    boil.row['sap_sugar'] = sweetEnough(boil, sap);
    boils.push(boil);
  }
  return boils;
}

/** Enough sugar in the sap for the syrup made from it, by the rule of 86; concentrated where there was little. */
function sweetEnough(boil: Boil, sap: readonly Row[]): string {
  const gallons = sap.reduce((sum, row) => sum + parseVolume(row['volume'] ?? '').value!.millilitres, 0) / 3785.411784;
  const needed = Math.ceil((860 * (boil.syrupQuarts / 4)) / gallons) / 10;
  return `${Math.max(needed, Number.parseFloat(boil.row['sap_sugar'] ?? ''))} Bx`;
}

function inventBoil(
  random: Random,
  n: number,
  day: number,
  nth: number,
  aDay: number,
  earlier: Boil | undefined,
): Boil {
  const date = marchDay(day);
  // The night of 7 March is an hour short: a rest from 20:00 to 08:00 is 11 hours.
  const clocksForward = date === '2026-03-07';
  const pastMidnight = !clocksForward && nth === aDay - 1 && random.oneIn(4);
  const minute = (pastMidnight ? 17 : 5) * 60 + Math.floor((nth * 360) / aDay);
  const beganAt = `${date}T${clock(minute)}`;
  const syrupQuarts = random.whole(6, 24);
  const carriedFrom = earlier && random.oneIn(4) ? earlier : undefined;
  const [defoamer, allergens] = random.of([
    ['', ''],
    ['none', ''],
    ['sunflower oil', 'none'],
    ['butter', 'milk'],
    ['none', 'none'],
  ] as const);
  const unanswered = n % 9 === 7;
  const code = `26${String(dayOfYear(date)).padStart(3, '0')}${letter(nth)}`;
  const ownId = random.oneIn(3) ? `B${n + 1}` : '';
  const row: Row = {
    // Where it is left blank, the book must derive the same code.
    lot: random.oneIn(2) ? code : '',
    id: ownId,
    began_at: beganAt,
    finished_at: pastMidnight ? `${marchDay(day + 1)}T00:40` : `${date}T19:30`,
    carried_from: carriedFrom ? `${carriedFrom.code}:${random.of(['2 qt', '1 gal', '3.5 L'])}` : '',
    sap_sugar: `${random.whole(15, 28) / 10} Bx`,
    water_boils_at: random.of(['210.4 F', '99.2C', '211°F', '']),
    finish_temp: random.of(['217.6 F', '103.4 °C', '']),
    filter_temp: random.of(['190 F', '88C', '']),
    filter_medium: random.of(['wool cone', 'wool cone, with a paper inside', '']),
    defoamer: unanswered ? 'a knob of butter' : defoamer,
    defoamer_allergens: unanswered ? '' : allergens,
    rested_from: pastMidnight ? '' : `${date}T20:00`,
    rested_until: pastMidnight ? '' : `${marchDay(day + 1)}T08:00`,
    syrup_volume: random.oneIn(2) ? `${syrupQuarts} qt` : `${syrupQuarts / 4} gal`,
    by: random.of(['WE', 'OE', 'JP']),
    note: random.of(['', 'slow fire', 'he said "one more hour", then two', 'snow; wind\nfrom the north']),
  };
  return {
    code,
    ownId,
    beganAt,
    row,
    syrupQuarts,
    leftQuarts: syrupQuarts,
    carriedFrom,
    unanswered,
    shortRest: clocksForward,
  };
}

function inventGathering(random: Random, n: number, day: number): Row {
  return {
    id: `G${String(n + 1).padStart(4, '0')}`,
    gathered_at: `${marchDay(Math.max(0, day - 1))}T${clock(14 * 60 + (n % 180))}`,
    source: random.of(['North slope, buckets', 'Hollow road', 'east bush "the old ones"']),
    volume: random.of(['120 gal', '95.5 gal', '400 L', '88 gal']),
    sugar: random.of(['2.1 Bx', '1.9Bx', '']),
    temperature: random.of(['38 F', '3C', '']),
    condition: random.of(['clear, cold', '']),
    by: random.of(['WE', 'OE', '']),
  };
}

const inventDraws = (random: Random, boil: Boil, before: number): Row[] =>
  Array.from({ length: random.whole(1, 3) }, (_, n) => ({
    id: `D${before + n + 1}`,
    boil: boil.ownId || boil.code,
    drawn_at: `${boil.beganAt.slice(0, 11)}${clock(17 * 60 + 5 + n * 20)}`,
    volume: random.of(['3 qt', '2 L', '1 gal']),
    temp: random.of(['218 F', '103.5C', '']),
    filter_temp: '186 F',
    vessel: 'can, steel',
    by: 'WE',
  }));
