import { act, add, complaint, pack, record, release, type Step, type Texts, type VerdictCase } from './verdict-case.js';

/** A second boil two days later in the same pans, and a pack of it. */
const laterBoil = (more: Texts = {}): Step[] => [
  record('boils', {
    beganAt: '2026-03-20T07:30',
    finishedAt: '2026-03-20T15:00',
    sapVolume: '120 gal',
    sapSugar: '2 Bx',
    filterTemp: '190 F',
    syrupVolume: '2 gal',
    defoamer: 'none',
    by: 'WE',
    ...more,
  }),
  record('packs', { ...ofLater, fromLots: '26079A:1 gal', packedAt: '2026-03-21T10:00' }),
];
const ofLater: Texts = {
  densityReading: '60.4 Bx',
  densityBy: 'hydrometer',
  densityAt: '185 F',
  container: 'glass jar 8 fl oz',
  jars: '16',
  fillTemps: '186 F#T1 jar 8;186 F#T1 jar 16',
  sealsFailed: '0',
  by: 'OE',
};
const pouredFromPack = (packedAt = '2026-03-21T13:00'): Step =>
  record('packs', { ...ofLater, fromLots: `${pack}:1 gal`, packedAt, hotPackTemp: '192 F' });
const washed = (what: string): Step =>
  record('cleanings', { at: '2026-03-19T18:00', what, with: 'hot water', rinsed: 'twice', wasRinsed: 'yes' });
const powder = { defoamer: 'powder from the dealer' };
const hydrometer = (fit: string, at: string, more: Texts = {}): Step =>
  record('checks', { instrument: 'H1', at, how: 'reference', fit, ...more });
const h1 = record('instruments', { id: 'H1', what: 'hydrometer', at: '2026-03-01T09:00' });
const sealed = { mould: 'yes', came: 'sealed' };
const outside = 'outside-these-rules';
const receipt = (more: Texts): Step =>
  record('receipts', {
    id: 'R001',
    supplier: 'Bracken Lane Sugarbush',
    contact: 'Bracken Lane',
    volume: '10 gal',
    density: '67 Bx',
    receivedAt: '2026-03-17T09:00',
    by: 'OE',
    ...more,
  });

/**
 * What was in the pans, in the syrup that was poured, in the hydrometer’s case: each case was judged wrongly when first
 * tried.
 */
export const contentsAttacks: readonly VerdictCase[] = [
  {
    is: 'butter in the log of a boil beside sunflower oil in its record',
    boil: { defoamer: 'sunflower oil', defoamerAllergens: 'none' },
    after: [record('lines', { lot: '26077A', at: '2026-03-18T12:00', what: 'defoamer', note: 'butter' })],
    state: 'held',
    rule: 'allergen-contradiction',
  },
  {
    is: 'a defoamer without an answer is carried over in unwashed pans',
    boil: powder,
    after: laterBoil(),
    lot: '26079A-1',
    state: 'held',
    rule: 'defoamer-allergens',
  },
  {
    is: 'washing the finish pan alone leaves it in the others',
    boil: powder,
    after: [washed('finish pan'), ...laterBoil()],
    lot: '26079A-1',
    state: 'held',
    rule: 'defoamer-allergens',
  },
  {
    is: 'bought syrup whose maker isn’t sure holds what it was blended into',
    before: [receipt({ allergens: 'not sure' })],
    pack: { fromLots: '26077A:0.75 gal;R001:0.75 gal' },
    lot: '26078X-1',
    state: 'held',
  },
  {
    is: 'bought syrup whose maker isn’t sure holds the boil that it was poured into',
    before: [receipt({ allergens: 'not sure' })],
    boil: { gatherings: 'G001:120 gal;R001:1 gal' },
    state: 'held',
    rule: 'defoamer-allergens',
  },
  {
    is: 'a pack poured from jars with broken glass is held with them',
    pack: { brokenGlass: '14' },
    after: [pouredFromPack()],
    lot: '26077A-2',
    state: 'held',
    rule: 'glass-poured-in',
    says: /Broken glass/,
  },
  {
    is: 'a pack poured from one over the lead limit is held with it',
    after: [
      record('lead-tests', { at: '2026-03-25T09:00', lot: pack, lead: '900 ppb' }),
      pouredFromPack('2026-03-27T13:00'),
    ],
    lot: '26077A-2',
    state: 'held',
    says: /Lead limit/,
  },
  {
    is: 'a pack poured from a mouldy one is held with it',
    after: [complaint('mould', sealed), pouredFromPack('2026-04-25T13:00')],
    lot: '26077A-2',
    state: 'held',
    rule: 'mould',
  },
  {
    is: 'a complaint about the boil’s code holds its packs',
    after: [complaint('mould on it', { lot: '26077A', ...sealed })],
    state: 'held',
    rule: 'mould',
  },
  {
    is: 'a density by a hydrometer that was found wrong later is measured again',
    before: [h1],
    pack: { instruments: 'T1;H1' },
    after: [hydrometer('no', '2026-03-25T08:00')],
    state: 'held',
    rule: 'density-measure-again',
    says: /H1, found wrong/,
  },
  {
    is: 'a density by the only hydrometer of the house, which was found wrong, is measured again',
    before: [h1, hydrometer('no', '2026-03-10T08:00')],
    state: 'held',
    rule: 'density-measure-again',
  },
  {
    is: 'glass stays with syrup that is poured back',
    pack: { brokenGlass: '14' },
    after: [act({ way: 'poured-back', jars: '12-16', found: 'glass broke', done: 'poured back' })],
    state: 'held',
    rule: 'broken-glass',
  },
  {
    is: 'measuring half of the jars again clears only that half',
    pack: { densityReading: '66.7 Bx', densityAt: '68 F', densityBy: 'refractometer' },
    after: [
      act({
        jars: '1-12',
        found: 'near the limit',
        done: 'measured again',
        densityReading: '67.1 Bx',
        densityAt: '68 F',
        densityBy: 'refractometer',
      }),
      release('measured again'),
    ],
    state: 'held',
    refuses: /stays held/,
  },
  ...['walnut syrup', 'low-sugar syrup', 'birch syrup', 'sirop de bouleau', 'ghost pepper syrup'].map(
    (product): VerdictCase => ({ is: `${product} is no maple syrup`, pack: { product }, state: 'held', rule: outside }),
  ),
  ...(
    [
      ['31.9 Be', '209 F'],
      ['36.2 Be', '50 F'],
      ['67.3 Bx', '50 F'],
      ['67.4 Bx', '40 F'],
      ['60.4 Bx', '184 F'],
    ] as const
  ).map(([densityReading, densityAt]): VerdictCase => ({
    is: `${densityReading} at ${densityAt} is under the chart`,
    pack: { densityReading, densityAt },
    state: 'held',
  })),
];

/** The reverse: answers, washed pans, adjusted instruments, and the plain names that people write. */
export const contentsSlips: readonly VerdictCase[] = [
  {
    is: 'the answer for a defoamer opens the boils after it too',
    boil: powder,
    after: [...laterBoil(), add('boils', '26077A', { defoamerAllergens: 'none' })],
    lot: '26079A-1',
    state: 'open',
  },
  {
    is: 'washed pans carry nothing over',
    boil: powder,
    after: [washed('front and back pan'), ...laterBoil()],
    lot: '26079A-1',
    state: 'open',
  },
  {
    is: 'butter with milk in unwashed pans is on the label and holds nothing',
    boil: { defoamer: 'butter', defoamerAllergens: 'milk' },
    after: laterBoil(),
    lot: '26079A-1',
    state: 'open',
  },
  {
    is: 'a pack poured from cold jars and packed hot',
    pack: { fillTemps: '178 F#T1 jar 24' },
    after: [pouredFromPack()],
    lot: '26077A-2',
    state: 'open',
  },
  {
    is: 'a hydrometer found right',
    before: [h1, hydrometer('yes', '2026-03-10T08:00')],
    pack: { instruments: 'T1;H1' },
    state: 'open',
  },
  {
    is: 'a hydrometer with a new scale, right again before the pack',
    before: [
      h1,
      hydrometer('no', '2026-03-10T08:00'),
      hydrometer('yes', '2026-03-12T08:00', { done: 'new paper scale' }),
    ],
    pack: { instruments: 'T1;H1' },
    state: 'open',
  },
  {
    is: 'broken glass looked into and released',
    pack: { brokenGlass: '14' },
    after: [
      act({ way: 'inspected', jars: '12-16', found: 'glass broke', done: 'looked into against the light' }),
      release('no splinters'),
    ],
    state: 'released',
  },
  {
    is: 'a tank that was rinsed before the boil, with its name in another case',
    before: [
      record('cleanings', { at: '2026-03-16T18:00', what: 'tank', with: 'bleach', wasRinsed: 'no' }),
      record('cleanings', { at: '2026-03-17T08:00', what: 'Tank', with: 'water', wasRinsed: 'yes' }),
    ],
    state: 'open',
  },
  {
    is: 'a tank that was not used, answered by a release of the boil',
    before: [record('cleanings', { at: '2026-03-16T18:00', what: 'tank', with: 'bleach', wasRinsed: 'no' })],
    after: [release('the tank was not used', '26077A')],
    state: 'released',
  },
  {
    is: 'a pan cleaned with hot water only, “no need” to rinse it',
    before: [
      record('cleanings', { at: '2026-03-17T18:00', what: 'finish pan', with: 'hot water only', rinsed: 'no need' }),
    ],
    state: 'open',
  },
  {
    is: 'a good test of the well after a bad one, before the boil',
    before: [
      record('water-tests', { at: '2026-03-10T09:00', source: 'House well', result: 'E. coli present' }),
      record('water-tests', { at: '2026-03-15T09:00', source: 'house well', result: 'E. coli <1 MPN/100 mL' }),
    ],
    state: 'open',
  },
  {
    is: 'lead at the limit of the place',
    after: [record('lead-tests', { at: '2026-03-25T09:00', lot: pack, lead: '250 ppb' })],
    state: 'open',
  },
  ...['Vermont maple syrup', 'maple sirup', 'medium amber syrup', 'Grade A Very Dark Strong'].map(
    (product): VerdictCase => ({ is: `a product of “${product}”`, pack: { product }, state: 'open' }),
  ),
  ...(
    [
      ['32.0 Be', '209 F'],
      ['36.25 Be', '50 F'],
      ['67.4 Bx', '50 F'],
      ['59.0 Bx', '219 F'],
      ['60.4 Bx', '85 C'],
    ] as const
  ).map(([densityReading, densityAt]): VerdictCase => ({
    is: `${densityReading} at ${densityAt} is what the chart requires, or more`,
    pack: { densityReading, densityAt },
    state: 'open',
  })),
];
