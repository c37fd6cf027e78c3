import type { SeasonBoil } from '#libs/reports/season/flow.js';
import type { SeasonLot } from '#libs/reports/season/lot.js';
import type { Recall } from '#libs/reports/recall/recall.js';
import type { Season } from '#libs/reports/season/season.js';
import { gallons, temperature, gathering, boil } from './tamarack-pieces.js';
import { threeBoils, fiveLots, dispatches } from './tamarack-lots.js';
import { sideRecords } from './tamarack-side.js';

/** A season of our invented sugarhouse: five packs of three boils, one held, one recalled, a blend among them. */
export function tamarackSeason(): Season {
  return {
    year: 2026,
    house: {
      name: 'Tamarack Hollow Sugarhouse',
      addressLines: ['9 Tamarack Hollow', 'Harrow Notch, Vermont 05000'],
      telephone: '802 555 0100',
      licences: ['Producer registration 0000 (invented)'],
      placeName: 'Vermont',
      rulesName: 'Vermont 1',
      zone: 'America/New_York',
      fillLimit: {
        f: 180,
        c: 82,
        words: '180 °F or 82 °C or more in the jar when capped',
        source: 'maple food-safety handbook, filling hazards',
      },
      densityLimit: {
        minBrix: 66.9,
        maxBrix: 68.9,
        words: '66.9 to 68.9 °Bx',
        source: 'UVM Extension; 6 V.S.A. ch. 32',
      },
    },
    practice: false,
    asOf: '2026-06-01T09:00:00-04:00',
    lots: fiveLots(),
    boils: threeBoils(),
    carriedIn: [{ code: '25098A', into: '26077A', volumeTyped: '1 gal', millilitres: gallons(1) }],
    gatherings: [
      gathering('G041', '2026-03-17T15:30:00-04:00', 'east bush', '220 gal', '2.1 Bx'),
      gathering('G042', '2026-03-17T17:10:00-04:00', 'Hollow road', '192 gal', '2 Bx'),
      gathering('G043', '2026-03-19T16:00:00-04:00', 'east bush', '260 gal', '1.9 Bx'),
    ],
    receipts: [
      {
        id: 'R007',
        supplier: 'Bracken Lane Sugarbush',
        contact: '802 555 0177',
        theirLot: 'BL-12',
        volumeTyped: '150 gal',
        millilitres: gallons(150),
        densityTyped: '2.2 Bx',
        receivedAt: '2026-03-21T11:00:00-04:00',
        by: 'OE',
      },
    ],
    syrupLeft: [],
    spent: [
      {
        id: 'U0001',
        lot: '26077A',
        how: 'house',
        volumeTyped: '1 pt',
        millilitres: 473.176,
        at: '2026-03-21T08:00:00-04:00',
        why: 'pancakes',
        by: 'JP',
      },
    ],
    draws: [
      {
        id: 'D001',
        boil: '26078A',
        drawnAt: '2026-03-20T00:40:00-04:00',
        volumeTyped: '3 gal',
        millilitres: gallons(3),
        readings: [temperature('draw', '219.1 F', '2026-03-20T00:40:00-04:00', 'T1', 'OE')],
        filterMedium: 'felt cone',
        vessel: 'steel can 2',
        by: 'OE',
      },
    ],
    dispatches: dispatches(),
    counts: [{ id: 'C1', lot: '26077A-1', jars: 38, countedAt: '2026-05-30T10:00:00-04:00', by: 'JP' }],
    side: sideRecords(),
    people: [
      { initials: 'WE', name: 'Wren Ellery', role: 'owner' },
      { initials: 'OE', name: 'Odd Ellery', role: 'maker' },
      { initials: 'JP', name: 'June Pascoe', role: 'packer' },
    ],
    cautions: [
      { words: 'Never leave a pan near draw-off: it goes from nearly done to ruined in minutes.', source: 'worked' },
      { words: 'Fuel burnt under a roof makes carbon monoxide: vent, and hang an alarm.', source: 'common practice' },
    ],
    authorities: [
      { name: 'State department of agriculture', asksAbout: 'grades, density, labels', contact: null },
      { name: 'Local health department', asksAbout: 'food safety, private water', contact: null },
      { name: 'Weights-and-measures office', asksAbout: 'net contents', contact: null },
    ],
    missing: [
      { code: '26081X-1', words: 'Held, with no corrective action yet.' },
      { code: null, words: 'The practice recall of this year is not written down.' },
    ],
    closed: null,
    record: { entries: 212, root: 'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77' },
  };
}

/** The same house with that many lots of forty jars each; only the number of lines differs. */
export function longSeason(lots: number): Season {
  const five = tamarackSeason();
  const template = five.lots[0] as SeasonLot;
  const places = ['Millrace Green', 'Bracken Lane Sugarbush', 'Harrow Notch general store', 'the road stand'];
  const many = Array.from({ length: lots }, (_, n): SeasonLot => {
    const day = 60 + (n % 50);
    const date = new Date(Date.UTC(2026, 0, day)).toISOString().slice(0, 10);
    const run = Math.floor(n / 50) + 1;
    const fill = 180 + ((n * 7) % 11);
    return {
      ...template,
      lot: `26${String(day).padStart(3, '0')}A-${run}`,
      boils: [`26${String(day).padStart(3, '0')}A`],
      boiled: [{ code: `26${String(day).padStart(3, '0')}A`, kind: 'boil', at: `${date}T18:00:00-04:00` }],
      packedAt: `${date}T${String(10 + (run % 10)).padStart(2, '0')}:30:00-04:00`,
      jarsMade: 40,
      jarsOnHand: 10,
      jarsSentOut: 30,
      jarsOther: 0,
      lowestFillF: fill,
      lowestFillTyped: `${fill} F`,
      brix: 66.9 + ((n * 3) % 20) / 10,
      colour: (['Golden', 'Amber', 'Dark', 'Very Dark'] as const)[n % 4] ?? 'Amber',
      syrupLitres: 9.464,
      sentTo: [
        { place: places[n % 4] ?? '', kind: 'sale', jars: 20 },
        { place: places[(n + 1) % 4] ?? '', kind: 'sale', jars: 10 },
      ],
    };
  });
  const boils = Array.from({ length: Math.min(lots, 50) }, (_, n): SeasonBoil => {
    const date = new Date(Date.UTC(2026, 0, 60 + n)).toISOString().slice(0, 10);
    return boil(`26${String(60 + n).padStart(3, '0')}A`, date, [['G041', '220 gal']], '410 gal', `${9 + (n % 4)} gal`);
  });
  return { ...five, lots: many, boils, dispatches: [] };
}

/** The third boil's packs recalled: a blend that is still on the shelf, cans that went to two places. */
export function tamarackRecall(practice = false): Recall {
  const season = tamarackSeason();
  const reached = season.lots.filter((one) => one.boils.includes('26078A'));
  const codes = reached.map((one) => one.lot);
  return {
    from: '26078A',
    why: 'A can of this boil leaked at the seam.',
    hazard: { hazard: null, whoMayBeHurt: null, whatToDo: null },
    callsMade: [],
    startedAt: '2026-06-01T08:10:00-04:00',
    notRecalled: [],
    sameSyrup: [],
    by: 'WE',
    practice,
    house: season.house,
    asOf: season.asOf,
    lots: reached.map((one) => ({ ...one, boundBy: 'packed from 26078A (4 gal)' })),
    dispatches: season.dispatches.filter((one) => codes.includes(one.lot) && !one.planned),
    plans: season.dispatches.filter((one) => codes.includes(one.lot) && one.planned),
    upstream: [
      { code: '26078A', words: 'Boil of 2026-03-19, 410 gal of sap to 10 gal of syrup.' },
      { code: 'G043', words: 'Gathered 2026-03-19 from the east bush, 260 gal.' },
      { code: 'R007', words: 'Received 2026-03-21 from Bracken Lane Sugarbush, 150 gal, their lot BL-12.' },
    ],
    people: season.people,
    authorities: season.authorities,
    record: season.record,
  };
}
