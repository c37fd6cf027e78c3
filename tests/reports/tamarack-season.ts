import type { Dispatch, DispatchKind, Gathering, SeasonBoil } from '../../libs/reports/season-flow.js';
import type { Reading, ReadingKind, SeasonLot } from '../../libs/reports/season-lot.js';
import type { Recall } from '../../libs/reports/recall.js';
import type { Season } from '../../libs/reports/season.js';
import type { SideRecords } from '../../libs/reports/season-side.js';
import { parseDensity, parseTemperature, parseVolume } from '../../libs/syrup/quantities.js';

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
        leastBrix: 66.9,
        mostBrix: 68.9,
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

export const gallons = (amount: number): number => Math.round(amount * 3785.411784 * 1000) / 1000;

export function temperature(
  kind: ReadingKind,
  typed: string,
  takenAt: string | null,
  instrument: string | null,
  by: string,
): Reading {
  const { value } = parseTemperature(typed);
  if (!value) throw new Error(`not a temperature: ${typed}`);
  return {
    kind,
    typed,
    unit: value.unit,
    number: value.degrees,
    celsius: value.celsius,
    takenAt,
    instrument,
    by,
    inDoubt: false,
  };
}

export function density(kind: ReadingKind, typed: string, takenAt: string | null, by: string): Reading {
  const { value } = parseDensity(typed);
  if (!value) throw new Error(`not a density: ${typed}`);
  return {
    kind,
    typed,
    unit: value.scale,
    number: value.reading,
    celsius: null,
    takenAt,
    instrument: 'H1',
    by,
    inDoubt: false,
  };
}

const millilitres = (typed: string): number => {
  const { value } = parseVolume(typed);
  if (!value) throw new Error(`not a volume: ${typed}`);
  return value.millilitres;
};

function gathering(id: string, gatheredAt: string, source: string, volumeTyped: string, sugar: string): Gathering {
  const readings = [
    density('sap sugar', sugar, gatheredAt, 'JP'),
    temperature('sap temperature', '36 F', gatheredAt, 'T2', 'JP'),
  ];
  return {
    id,
    gatheredAt,
    source,
    volumeTyped,
    millilitres: millilitres(volumeTyped),
    readings,
    condition: 'clear',
    by: 'JP',
  };
}

function boil(lot: string, day: string, inputs: readonly [string, string][], sap: string, syrup: string): SeasonBoil {
  return {
    lot,
    beganAt: `${day}T18:05:00-04:00`,
    finishedAt: `${day}T23:40:00-04:00`,
    inputs: inputs.map(([code, typed]) => ({ code, volumeTyped: typed, millilitres: millilitres(typed) })),
    carriedFrom: [],
    sapVolumeTyped: sap,
    sapMillilitres: millilitres(sap),
    sapSugarTyped: '2.1 Bx',
    readings: [
      temperature('water boils', '211.0 F', `${day}T18:05:00-04:00`, 'T1', 'WE'),
      temperature('finish', '218.4 F', `${day}T23:05:00-04:00`, 'T1', 'WE'),
      temperature('filter', '190 F', `${day}T23:30:00-04:00`, 'T1', 'OE'),
    ],
    filterMedium: 'felt cone',
    defoamer: 'butter, a thumbnail',
    defoamerAllergens: 'milk',
    restedFrom: `${day}T23:45:00-04:00`,
    restedUntil: null,
    syrupVolumeTyped: syrup,
    syrupMillilitres: millilitres(syrup),
    by: 'WE',
    note: null,
    history: [],
  };
}

function threeBoils(): SeasonBoil[] {
  const first = boil('26076A', '2026-03-17', [['G041', '220 gal']], '220 gal', '5.5 gal');
  const second = boil('26077A', '2026-03-18', [['G042', '192 gal']], '192 gal', '6 gal');
  const third = boil(
    '26078A',
    '2026-03-19',
    [
      ['G043', '260 gal'],
      ['R007', '150 gal'],
    ],
    '410 gal',
    '10 gal',
  );
  return [
    first,
    {
      ...second,
      carriedFrom: [
        { code: '26076A', volumeTyped: '0.5 gal', millilitres: gallons(0.5) },
        { code: '25098A', volumeTyped: '1 gal', millilitres: gallons(1) },
      ],
    },
    third,
  ];
}

export function lot(code: string, boils: readonly string[], packedAt: string, more: Partial<SeasonLot>): SeasonLot {
  return {
    lot: code,
    boils,
    boiledAt: boils.map((boilCode) => `2026-03-${10 + Number(boilCode.slice(3, 5)) - 69}T18:05:00-04:00`),
    packedAt,
    container: 'glass jar 8 fl oz',
    containerMillilitres: 236.588,
    jarsMade: 0,
    jarsOnHand: 0,
    jarsSentOut: 0,
    jarsDestroyed: 0,
    jarsOther: 0,
    unaccounted: null,
    lowestFillF: null,
    lowestFillTyped: null,
    brix: 67.1,
    brixUncertainty: 0.3,
    colour: 'Amber',
    syrupLitres: 0,
    status: 'open',
    findings: [],
    inputs: boils.map((boilCode) => ({ code: boilCode, volumeTyped: '4 gal', millilitres: gallons(4) })),
    readings: [],
    containerPrep: 'jars boiled 10 min, kept hot',
    sealsFailed: 0,
    sealsOutcome: null,
    transmittancePercent: 61,
    clarity: 'clear',
    offFlavour: null,
    allergens: ['milk'],
    note: null,
    by: 'WE',
    sentTo: [],
    lateEntries: [],
    history: [],
    correctiveActions: [],
    statusWhy: null,
    released: null,
    countedAt: null,
    ...more,
  };
}

function fills(day: string, hour: number, ...typed: string[]): Reading[] {
  return typed.map((text, index) =>
    temperature('fill', text, `${day}T${hour}:${String(5 + index * 12).padStart(2, '0')}:00-04:00`, 'T1', 'WE'),
  );
}

function fiveLots(): SeasonLot[] {
  return [
    lot('26076A-1', ['26076A'], '2026-03-18T14:00:00-04:00', {
      jarsMade: 72,
      jarsOnHand: 30,
      jarsSentOut: 40,
      jarsOther: 2,
      lowestFillF: 183,
      lowestFillTyped: '183 F',
      syrupLitres: 17.034,
      sealsFailed: 0,
      readings: [
        temperature('hot pack', '192 F', '2026-03-18T14:00:00-04:00', 'T1', 'WE'),
        ...fills('2026-03-18', 14, '186 F', '184 F', '183 F'),
        density('density', '60.6 Bx', '2026-03-18T14:20:00-04:00', 'WE'),
        temperature('density sample', '185 F', '2026-03-18T14:20:00-04:00', 'T1', 'WE'),
      ],
      sentTo: [{ place: 'Millrace Green', kind: 'sale', jars: 40 }],
    }),
    lot('26077A-1', ['26077A', '26076A'], '2026-03-19T15:00:00-04:00', {
      jarsMade: 80,
      jarsOnHand: 38,
      jarsSentOut: 36,
      jarsDestroyed: 1,
      jarsOther: 2,
      unaccounted: 3,
      lowestFillF: 181.4,
      lowestFillTyped: '83 C',
      brix: 67.4,
      syrupLitres: 18.927,
      countedAt: '2026-05-30T10:00:00-04:00',
      readings: [
        ...fills('2026-03-19', 15, '85 C', '83 C', '84.5 C'),
        density('density', '36.2 Be', '2026-03-19T15:20:00-04:00', 'OE'),
      ],
      sentTo: [
        { place: 'Millrace Green', kind: 'sale', jars: 24 },
        { place: '=SUM(A1) stall', kind: 'sale', jars: 10 },
        { place: 'June Pascoe', kind: 'gift', jars: 2 },
      ],
      lateEntries: [
        {
          field: 'fill temperature',
          happenedAt: '2026-03-19T15:29:00-04:00',
          typedAt: '2026-03-21T09:00:00-04:00',
          hoursLate: 41.5,
        },
      ],
    }),
    lot('26078A-1', ['26078A'], '2026-03-20T13:00:00-04:00', {
      jarsMade: 60,
      jarsOnHand: 60,
      lowestFillF: 181,
      lowestFillTyped: '181 F',
      brix: 66.9,
      colour: 'Dark',
      transmittancePercent: 41,
      syrupLitres: 14.195,
      status: 'released',
      sealsFailed: 2,
      sealsOutcome: 'two lids refitted after reheating',
      readings: [...fills('2026-03-20', 13, '179 F', '184 F', '181 F')],
      findings: [
        {
          rule: 'fill-temperature',
          stop: true,
          limit: '180 °F or more in the jar when capped',
          found: '179 F at the first jar',
          source: 'maple food-safety handbook, filling hazards',
        },
      ],
      history: [
        line(91, '2026-03-20T13:40:00-04:00', 'WE', 'held', 'Held: 179 F at the first jar.'),
        line(96, '2026-03-20T15:10:00-04:00', 'WE', 'acted', 'The jars of the first five minutes were reheated.'),
        line(97, '2026-03-20T15:30:00-04:00', 'WE', 'released', 'Let go after reheating.'),
      ],
      correctiveActions: [
        {
          at: '2026-03-20T15:10:00-04:00',
          by: 'WE',
          found: '179 F at the first jar',
          done: 'Twelve jars emptied, the syrup reheated to 192 F and packed again into hot jars.',
          readings: [temperature('fill', '184 F', '2026-03-20T15:05:00-04:00', 'T1', 'WE')],
        },
      ],
      released: { by: 'WE', at: '2026-03-20T15:30:00-04:00', why: 'Reheated and packed again; all at 184 F.' },
    }),
    lot('26081X-1', ['26077A', '26078A'], '2026-03-22T10:00:00-04:00', {
      jarsMade: 24,
      jarsOnHand: 24,
      container: 'plastic jug 32 fl oz',
      containerMillilitres: 946.353,
      lowestFillF: null,
      lowestFillTyped: null,
      brix: 66.4,
      colour: 'Very Dark',
      transmittancePercent: 18,
      sealsFailed: null,
      syrupLitres: 22.712,
      status: 'held',
      statusWhy: '66.4 °Bx is below 66.9 °Bx, and no fill temperature was read.',
      findings: [
        {
          rule: 'fill-not-read',
          stop: true,
          limit: '180 °F or more in the jar when capped',
          found: 'not read',
          source: 'maple food-safety handbook, filling hazards',
        },
        {
          rule: 'density-too-thin',
          stop: true,
          limit: '66.9 °Bx or more',
          found: '66.4 °Bx',
          source: 'UVM Extension; 6 V.S.A. ch. 32',
        },
      ],
      history: [line(140, '2026-03-22T10:30:00-04:00', 'OE', 'held', 'Held: too thin, and no fill temperature.')],
    }),
    lot('26078A-2', ['26078A'], '2026-03-24T09:30:00-04:00', {
      jarsMade: 20,
      jarsOnHand: 4,
      jarsSentOut: 14,
      jarsDestroyed: 2,
      container: 'metal can 500 mL',
      containerMillilitres: 500,
      lowestFillF: 187,
      lowestFillTyped: '187 F',
      brix: 68.1,
      colour: 'Dark',
      syrupLitres: 10,
      status: 'recalled',
      statusWhy: 'A can leaked at the seam.',
      readings: [...fills('2026-03-24', 10, '190 F', '187 F')],
      history: [
        {
          ...line(150, '2026-03-25T08:00:00-04:00', 'JP', 'corrected', 'Jars made: 20, not 21.'),
          field: 'jars',
          was: '21',
          now: '20',
          why: 'counted again on the shelf',
        },
      ],
      sentTo: [
        { place: 'Millrace Green', kind: 'sale', jars: 8 },
        { place: 'Bracken Lane Sugarbush', kind: 'sale', jars: 6 },
      ],
    }),
  ];
}

function line(
  entry: number,
  at: string,
  by: string,
  kind: SeasonLot['history'][number]['kind'],
  words: string,
): SeasonLot['history'][number] {
  return { entry, at, by, kind, words, field: null, was: null, now: null, why: null };
}

function dispatches(): Dispatch[] {
  const sent = (
    id: string,
    lotCode: string,
    jars: number,
    to: string,
    kind: DispatchKind,
    sentAt = '2026-04-04T08:00:00-04:00',
  ): Dispatch => ({
    id,
    lot: lotCode,
    jars,
    jarCodes: [],
    sentAt,
    to,
    kind,
    contact: to === 'Bracken Lane Sugarbush' ? '802 555 0177' : null,
    by: 'JP',
    planned: sentAt > '2026-06-01',
  });
  return [
    sent('S1', '26076A-1', 40, 'Millrace Green', 'sale'),
    sent('S2', '26076A-1', 2, 'own pantry', 'kept'),
    sent('S3', '26077A-1', 24, 'Millrace Green', 'sale'),
    sent('S4', '26077A-1', 10, '=SUM(A1) stall', 'sale'),
    sent('S5', '26077A-1', 2, 'June Pascoe', 'gift'),
    sent('S6', '26077A-1', 1, 'compost', 'destroyed'),
    sent('S7', '26077A-1', 2, 'shelf copy', 'retained'),
    sent('S8', '26078A-2', 8, 'Millrace Green', 'sale'),
    sent('S9', '26078A-2', 6, 'Bracken Lane Sugarbush', 'sale'),
    sent('S10', '26078A-2', 2, 'compost', 'destroyed'),
    { ...sent('S11', '26078A-1', 30, 'Millrace Green', 'sale', '2026-06-20T08:00:00-04:00'), planned: true },
  ];
}

export function sideRecords(): SideRecords {
  return {
    instruments: [
      { id: 'T1', kind: 'thermometer', description: 'probe, kettle and jar' },
      { id: 'T2', kind: 'thermometer', description: 'dial, sap tank' },
      { id: 'H1', kind: 'hydrometer', description: 'syrup, 60 °F' },
    ],
    instrumentChecks: [
      {
        instrument: 'T1',
        checkedAt: '2026-03-15T10:00:00-04:00',
        against: 'ice point',
        expectedTyped: '32 F',
        foundTyped: '32.4 F',
        pass: true,
        by: 'OE',
        lotsInDoubt: [],
      },
      {
        instrument: 'T2',
        checkedAt: '2026-03-15T10:10:00-04:00',
        against: 'ice point',
        expectedTyped: '32 F',
        foundTyped: '35.1 F',
        pass: false,
        by: 'OE',
        lotsInDoubt: ['26076A-1'],
      },
    ],
    cleanings: [
      {
        at: '2026-03-16T09:00:00-04:00',
        what: 'pans and tank',
        withWhat: 'unscented bleach',
        strength: '1 to 20',
        rinsed: true,
        by: 'JP',
      },
    ],
    filterWashings: [
      { at: '2026-03-20T09:00:00-04:00', filter: 'felt cone', how: 'hot water only, not wrung', by: 'JP' },
    ],
    equipment: [{ name: 'finishing pan', material: 'stainless steel, welded', year: '2008', leadRisk: null }],
    supplies: [
      {
        id: 'J1',
        item: 'glass jar 8 fl oz',
        supplier: 'Notch Glass',
        supplierLot: 'NG-220',
        receivedAt: '2026-02-20T12:00:00-05:00',
        lots: ['26076A-1', '26077A-1', '26078A-1'],
      },
    ],
    defoamers: [{ name: 'butter', allergens: 'milk' }],
    waterTests: [
      {
        at: '2026-02-02T00:00:00-05:00',
        source: 'drilled well',
        laboratory: 'county laboratory',
        outcome: 'no coliforms found',
      },
    ],
    practiceRecalls: [
      {
        at: '2025-11-09T10:00:00-05:00',
        lot: '25090A-1',
        minutes: 95,
        jarsMade: 60,
        jarsFound: 60,
        closed: true,
        words: 'All found in both directions.',
        by: 'WE',
      },
    ],
    complaints: [
      {
        at: '2026-05-02T12:00:00-04:00',
        code: '26078A-2',
        words: 'A can leaked at the seam.',
        seen: 'seal gone, mould no',
        done: 'Lot recalled the same day.',
        by: 'WE',
      },
    ],
    trainings: [{ at: '2026-02-25T18:00:00-05:00', initials: 'JP', subject: 'hands, hair, sick days' }],
  };
}

/** The same house with as many lots as asked, forty jars each; only the number of lines differs. */
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
      boiledAt: [`${date}T18:00:00-04:00`],
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

/** The third boil's packs called back: a blend that is still on the shelf, cans that went to two places. */
export function tamarackRecall(practice = false): Recall {
  const season = tamarackSeason();
  const reached = season.lots.filter((one) => one.boils.includes('26078A'));
  const codes = reached.map((one) => one.lot);
  return {
    from: '26078A',
    why: 'A can of this boil leaked at the seam.',
    startedAt: '2026-06-01T08:10:00-04:00',
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
