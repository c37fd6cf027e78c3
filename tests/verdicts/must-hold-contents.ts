import { act, complaint, correct, pack, record, release, type VerdictCase, density } from './verdict-case.js';

const contradicts = 'allergen-contradiction';

const unanswered = 'defoamer-allergens';

const question = 'spoilage-question';

const outside = 'outside-these-rules';

/** What was in the pan, the jar or the house, and what buyers report. */
export const mustHoldContents: readonly VerdictCase[] = [
  ...(
    [
      ['butter', 'none'],
      ['peanut oil', 'none'],
      ['cream', 'no'],
      ['whole milk', 'none'],
      ['beurre', 'aucun'],
      ['margarine', 'none'],
      ['crème 35 %', 'aucun'],
      ['soy lecithin', 'none'],
      ['ghee', 'none'],
      ['huile d’arachide', 'aucun'],
      ['almond oil', 'none'],
    ] as const
  ).map(([defoamer, defoamerAllergens]): VerdictCase => ({
    is: `${defoamer} with allergens “${defoamerAllergens}” holds`,
    boil: { defoamer, defoamerAllergens },
    state: 'held',
    rule: contradicts,
  })),
  { is: 'peanut oil with “N/A” holds', boil: { defoamer: 'peanut oil', defoamerAllergens: 'N/A' }, state: 'held' },
  {
    is: 'a defoamer without an answer holds',
    boil: { defoamer: 'powder from the dealer' },
    state: 'held',
    rule: unanswered,
  },
  {
    is: 'a defoamer whose maker is not sure holds',
    boil: { defoamer: 'powder from the dealer', defoamerAllergens: 'not sure' },
    state: 'held',
    rule: unanswered,
  },
  {
    is: 'a homemade defoamer raises the question what is in it',
    boil: { defoamer: 'homemade', defoamerAllergens: 'none' },
    state: 'held',
  },
  {
    is: 'an unanswered defoamer of the previous boil is carried over in the pans',
    boil: { defoamer: 'powder from the dealer' },
    after: [
      record('boils', {
        beganAt: '2026-03-20T07:30',
        carriedFrom: '26077A:1 gal',
        syrupVolume: '2 gal',
        defoamer: 'none',
        by: 'WE',
      }),
      record('packs', {
        fromLots: '26079A:1 gal',
        packedAt: '2026-03-21T10:00',
        densityReading: '60.4 Bx',
        densityBy: 'hydrometer',
        densityAt: '185 F',
        container: 'glass jar 8 fl oz',
        jars: '16',
        fillTemps: '186 F#T1 jar 16',
        by: 'OE',
      }),
    ],
    lot: '26079A-1',
    state: 'held',
    rule: unanswered,
  },
  ...['infused', 'flavoured', 'barrel-aged', 'cream', 'candy', 'sugar'].map((product): VerdictCase => ({
    is: `${product} is outside these rules`,
    pack: { product },
    state: 'held',
    rule: outside,
  })),
  {
    is: 'a product outside these rules is not released without an authority',
    pack: { product: 'cream' },
    after: [release('grandmother’s way')],
    state: 'held',
    rule: outside,
    refuses: /authority/i,
  },
  {
    is: 'a low reading never becomes a product by correction',
    pack: density('55 Bx', '185 F'),
    after: [correct('pack', pack, { product: 'flavoured' })],
    state: 'held',
  },
  ...[
    'green mould under the lid',
    'mold on top',
    'there was fuzzy stuff on it',
    'de la moisissure sous le couvercle',
    'the lid is bulging',
    'two mouldy jars',
  ].map((formatted): VerdictCase => ({
    is: `“${formatted}” raises a question and holds`,
    after: [complaint(formatted)],
    state: 'held',
  })),
  {
    is: 'mould in a sealed jar holds',
    after: [complaint('mould', { mould: 'yes', came: 'sealed' })],
    state: 'held',
    rule: 'mould',
  },
  {
    is: 'mould in a jar kept cold holds',
    after: [complaint('mould', { mould: 'yes', came: 'opened-cold' })],
    state: 'held',
    rule: 'mould',
  },
  { is: 'a bulging lid holds', after: [complaint('odd lid', { seal: 'bulging' })], state: 'held', rule: 'mould' },
  {
    is: 'syrup that smells fermented holds',
    after: [complaint('smells off', { smell: 'fermented-or-sour' })],
    state: 'held',
    rule: 'mould',
  },
  { is: 'mould “not known” holds', after: [complaint('something white', { mould: 'not-known' })], state: 'held' },
  {
    is: 'mould is not released with a reason',
    after: [complaint('mould', { mould: 'yes', came: 'sealed' }), release('only one jar')],
    state: 'held',
    refuses: /stays held/,
  },
  {
    is: 'an answer about mould withdrawn by correction leaves the lot held',
    after: [
      record('complaints', {
        id: 'CO1',
        lot: pack,
        at: '2026-04-20T10:00',
        said: 'white on top',
        mould: 'yes',
        came: 'sealed',
      }),
      correct('complaint', 'CO1', { mould: 'no' }, 'it was sugar'),
    ],
    state: 'held',
  },
  {
    is: 'a second sealed mouldy jar holds every pack of the boil',
    after: [
      record('packs', {
        fromLots: '26077A:1 gal',
        packedAt: '2026-03-19T13:00',
        densityReading: '60.4 Bx',
        densityBy: 'hydrometer',
        densityAt: '185 F',
        container: 'glass jar 8 fl oz',
        jars: '16',
        fillTemps: '186 F#T1 jar 16',
        sealsFailed: '0',
        by: 'OE',
      }),
      complaint('mould', { mould: 'yes', came: 'sealed' }),
      complaint('mould again', { mould: 'yes', came: 'sealed', at: '2026-04-21T10:00' }),
    ],
    lot: '26077A-2',
    state: 'held',
  },
  {
    is: 'mould in the note of a pack raises a question and holds',
    pack: { note: 'a little mould on two jars' },
    state: 'held',
    rule: question,
  },
  { is: 'an off flavour holds', pack: { offFlavour: 'fermented' }, state: 'held' },
  { is: 'cloudy syrup holds', pack: { clarity: 'cloudy' }, state: 'held', rule: 'cloudy' },
  {
    is: 'an action that found mould holds',
    after: [act({ found: 'mouldy jar on the shelf', jars: '3', done: 'thrown out' })],
    state: 'held',
  },
  {
    is: 'a pan that was not rinsed raises a question about the boils since',
    before: [
      record('cleanings', {
        at: '2026-03-17T18:00',
        what: 'finish pan',
        with: 'unscented bleach',
        rinsed: 'no, forgot',
      }),
    ],
    state: 'held',
  },
  {
    is: 'E. coli in the water raises a question about the boils since',
    before: [record('water-tests', { at: '2026-03-10T09:00', source: 'house well', result: 'E. coli present' })],
    state: 'held',
  },
  {
    is: 'processing grade in half pints holds',
    pack: { colourClass: 'processing', transmittance: '' },
    state: 'held',
    rule: 'processing-below-5-gal',
  },
];
