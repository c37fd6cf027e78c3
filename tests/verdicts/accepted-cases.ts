import type { AuthorityConsultation } from '#libs/actions/lots/authority-consultation.js';
import { act, another, check, checks, complaint, one, pack, record, release } from './verdict-case.js';
import { pouredFrom } from './stock-cases.js';
import type { Step, VerdictCase } from './verdict-case.js';

/** A lot held by rules that a release may accept; the steps end before its release. */
export type Acceptable = Omit<VerdictCase, 'state'>;

export const consultation = {
  authority: 'Vermont Agency of Agriculture',
  askedAt: '2026-04-22',
  answer: 'sell it under their product rule',
} satisfies Partial<AuthorityConsultation>;
/** A release that names an authority, which every rule accepts. */
export const accepting = (lot = pack): Step => release('looked into, all well', lot, consultation);

const wrong = (how: string, reads: string, more = {}): Step => check(how, reads, { at: '2026-03-25T08:00', ...more });
const unknownAmount = wrong('ice', '', { should: '', fit: 'no' });
const looked = (more = {}): Step =>
  act({
    at: '2026-04-21T15:00',
    way: 'inspected',
    found: 'one complaint',
    done: 'looked at twelve',
    jarsMouldy: '0',
    jarsSound: '12',
    ...more,
  });
const leadTest = (lead: string, more = {}): Step =>
  record('lead-tests', { at: '2026-03-25T09:00', lot: pack, lead, ...more });
const canada = { town: 'Lac-des-Érables, Québec', place: 'Quebec', zone: 'America/Toronto' };
const gaps = { checkEvery: '12 jars', gapsHold: 'yes' };
const low = checks('29 F', '207.4 F');
const boil = '26077A';

/** Every form of the sentences of the nine rules: stored releases are matched with all of them. */
export const acceptable: readonly Acceptable[] = [
  { is: 'a reading hot enough only as corrected', checks: low, pack: one('178 F@10:20#T1 jar 24') },
  {
    is: 'the same by a thermometer that the reading doesn’t name, and without a time',
    checks: low,
    pack: one('186 F jar 12;178.50 F jar 24'),
  },
  {
    is: 'the same in degrees Celsius, some of them read again',
    checks: low,
    pack: one('86 C jar 12;81,5 C jar 24'),
    after: [act({ jars: '13-24', fillTemps: '81.0 C@15:40#T1 jar 24' })],
  },
  {
    is: 'more than five of them',
    checks: low,
    pack: one([1, 4, 8, 12, 16, 20, 24].map((jar) => `178.${jar % 9} F#T1 jar ${jar}`).join(';')),
  },
  { is: 'a thermometer wrong by an unknown amount', after: [unknownAmount] },
  {
    is: 'one taken to be the only one of the house, with a time of another day',
    pack: one('186 F@2026-03-20T01:05 jar 12;187 F'),
    after: [unknownAmount],
  },
  {
    is: 'an erratic thermometer',
    after: [wrong('ice', '29.5 F'), wrong('ice', '36 F', { at: '2026-03-26T08:00' })],
    pack: one('190 F@10:05#T1 jar 12;192 F@10:15#T1 jar 24'),
  },
  {
    is: 'a thermometer that read too high afterwards',
    checks: [],
    pack: one('185 F@10:05#T1 jar 24'),
    after: [wrong('boiling-water', '213.4 F'), wrong('boiling-water', '217 F', { at: '2026-03-28T08:00' })],
  },
  {
    is: 'a thermometer outside its tolerance and wrong by an unknown amount',
    checks: checks('36 F', '214.4 F'),
    pack: one('186 F@10:05#T1 jar 24'),
    after: [unknownAmount],
  },
  { is: 'one reading for too many jars', house: gaps, pack: one('186 F#T1 jar 1;186 F#T1 jar 24') },
  { is: 'no reading for too many jars', house: gaps, pack: one('186 F#T1 jar 1;186 F#T1 jar 2') },
  { is: 'no jar numbers', house: gaps, pack: one('186 F#T1') },
  {
    is: 'readings too long after each other',
    house: { ...gaps, checkEvery: '15 min' },
    pack: one('186 F@10:00#T1 jar 12;185 F@10:40#T1 jar 24'),
  },
  { is: 'more sugar than came in', lot: boil, boil: { syrupVolume: '4 gal' } },
  {
    is: 'the same in litres',
    house: canada,
    lot: boil,
    gathering: { volume: '450 L' },
    boil: { gatherings: 'G001:450 L', syrupVolume: '16.5 L' },
    pack: { fromLots: '26077A:5.7 L', container: 'glass jar 236 mL' },
  },
  {
    is: 'more sugar than in sap of several gatherings, one of them not read',
    lot: boil,
    before: [
      record('gatherings', {
        id: 'G002',
        gatheredAt: '2026-03-17T17:30',
        source: 'South',
        volume: '33.3 gal',
        sugar: '1.8 Bx',
        by: 'OE',
      }),
      record('gatherings', {
        id: 'G003',
        gatheredAt: '2026-03-17T18:30',
        source: 'East',
        volume: '2.125 gal',
        by: 'OE',
      }),
    ],
    boil: { gatherings: 'G001:120 gal;G002:33.3 gal;G003:2.125 gal', syrupVolume: '9.9 gal' },
  },
  {
    is: 'more sugar than in sap that was never read',
    lot: boil,
    gathering: { sugar: '' },
    boil: { syrupVolume: '119 gal' },
  },
  {
    is: 'splinters in syrup poured from a pack in which glass broke',
    pack: { brokenGlass: '5' },
    after: [pouredFrom('2026-03-21T13:00')],
    lot: '26077A-2',
  },
  {
    is: 'a mouldy jar, others inspected',
    after: [complaint('mould on top', { mould: 'yes', came: 'sealed' }), looked()],
  },
  {
    is: 'a bulging jar that smells sour and was opened cold, and a note about it',
    after: [
      complaint('it hissed', { seal: 'bulging', smell: 'fermented-or-sour', came: 'opened-cold', mould: 'no' }),
      complaint('green fuzz under the lid'),
      record('answers', { lot: pack, answer: 'yes' }),
      looked(),
    ],
  },
  {
    is: 'mouldy jars of another pack of the same boil',
    after: [
      another('pack', {
        fromLots: '26077A:1 gal',
        packedAt: '2026-03-19T14:00',
        jars: '12',
        fillTemps: '186 F#T1 jar 12',
      }),
      complaint('mould', { lot: '26077A-2', mould: 'yes', came: 'sealed' }),
      complaint('mould', { lot: '26077A-2', mould: 'yes', came: 'sealed' }),
      looked(),
    ],
  },
  {
    is: 'a shard of glass',
    after: [complaint('a shard of glass in the syrup'), record('answers', { lot: pack, answer: 'yes' })],
  },
  {
    is: 'a shard of glass in a jar of another pack of the same boil',
    after: [
      another('pack', {
        fromLots: '26077A:1 gal',
        packedAt: '2026-03-19T14:00',
        jars: '12',
        fillTemps: '186 F#T1 jar 12',
      }),
      complaint('a shard of glass in the syrup', { lot: '26077A-2' }),
      record('answers', { lot: '26077A-2', answer: 'yes' }),
    ],
  },
  {
    is: 'a tank that was not rinsed',
    lot: boil,
    before: [record('cleanings', { at: '2026-03-17T18:00', what: ' tank', with: 'bleach', wasRinsed: 'no' })],
  },
  {
    is: 'a water test that failed',
    lot: boil,
    before: [
      record('water-tests', { at: '2026-03-10', source: 'well', result: 'coliform present', bacteria: 'coliform' }),
    ],
  },
  {
    is: 'a part over the lead limit',
    lot: boil,
    before: [record('lead-tests', { at: '2026-03-10', equipment: 'old pan', lead: '900 ppb' })],
  },
  { is: 'lead over the limit', after: [leadTest('900 ppb')] },
  {
    is: 'lead over the limit twice, and below it later',
    after: [leadTest('0.9 ppm'), leadTest('700 ppb'), leadTest('90 ppb')],
  },
  { is: 'lead over the limit in a boil', lot: boil, after: [leadTest('900 ppb', { lot: boil })] },
  ...[
    'cream',
    'maple butter',
    'infused with garlic',
    'vanilla',
    'barrel aged',
    'candy',
    'maple sugar',
    'below density',
    'a mixture',
  ].map((product) => ({ is: `another product: ${product}`, pack: { product } })),
  {
    is: 'a note that says something was added',
    pack: {
      note: 'added two vanilla beans to each jar of it, and labelled the jars with a note that says that they were put in',
    },
  },
  {
    is: 'a pack poured from another product',
    pack: { product: 'infused with garlic' },
    after: [
      accepting(),
      another('pack', {
        lot: '26078X-1',
        packedAt: '2026-03-20T10:00',
        fromLots: `${pack}:1 gal`,
        fillTemps: '186 F#T1 jar 12',
        jars: '12',
      }),
    ],
    lot: '26078X-1',
  },
  {
    is: 'two rules at once',
    checks: low,
    pack: { ...one('178 F@10:20#T1 jar 24') },
    after: [
      leadTest('900 ppb'),
      complaint('a shard of glass in the syrup'),
      record('answers', { lot: pack, answer: 'yes' }),
    ],
  },
];
