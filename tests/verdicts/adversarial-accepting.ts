import { consultation } from './accepted-cases.js';
import {
  act,
  add,
  another,
  check,
  checks,
  complaint,
  correct,
  one,
  pack,
  record,
  release,
  send,
  type Step,
  type Texts,
  type VerdictCase,
} from './verdict-case.js';

const boil = '26077A';
export const accepted = (lot = pack): Step => release('looked into, all well', lot, consultation);
/** A thermometer that reads 3 °F low. */
export const low: readonly Step[] = checks('29 F', '207.4 F');
const lowBy = (id: string): readonly Step[] => [
  check('ice', '29 F', { id }),
  check('boiling-water', '207.4 F', { id: `${id}B` }),
];
export const perhaps = one('178 F@10:20#T1 jar 24');
const seven = [178.1, 178.2, 178.3, 178.4, 178.5, 178.6, 178.9];
const sevenReadings = (degrees: readonly number[]): Texts =>
  one(degrees.map((each, n) => `${each} F#T1 jar ${n + 1}`).join(';'));
const toldOfGlass = [
  complaint('a shard of glass in the syrup', { id: 'C1' }),
  record('answers', { lot: pack, answer: 'yes' }),
  accepted(),
];
const looked = (more: Texts = {}): Step =>
  act({
    id: 'A1',
    at: '2026-04-21T15:00',
    way: 'inspected',
    found: 'one complaint',
    done: 'looked at twelve',
    jarsMouldy: '0',
    jarsSound: '12',
    ...more,
  });
const mouldInspected = [complaint('mould on top', { id: 'C1', mould: 'yes', came: 'sealed' }), looked()];
export const leadTest = (id: string, lead: string, more: Texts = {}): Step =>
  record('lead-tests', { id, at: '2026-03-25T09:00', lot: pack, lead, ...more });
const gaps = { checkEvery: '12 jars', gapsHold: 'yes' };
export const tooSweet = { lot: boil, boil: { syrupVolume: '4 gal' } } as const;
const added = 'added two vanilla beans to each jar of this pack, as they asked for at the market in April';
const infusedFrom = (product: string): Step[] => [
  another('pack', {
    lot: '26077A-2',
    packedAt: '2026-03-19T14:00',
    fromLots: '26077A:0.5 gal',
    jars: '8',
    fillTemps: '186 F#T1 jar 8',
    product,
  }),
];
const pouredTogether = another('pack', {
  lot: '26078X-1',
  packedAt: '2026-03-20T10:00',
  fromLots: `${pack}:0.5 gal;26077A-2:0.3 gal`,
  jars: '12',
  fillTemps: '186 F#T1 jar 12',
});

/** A release accepts one finding: another value, more jars, another record or a second finding of its rule holds again. */
export const acceptingAttacks: readonly VerdictCase[] = [
  {
    is: 'a reading that a release accepted, corrected to a colder one, holds again',
    checks: low,
    pack: perhaps,
    after: [accepted(), correct('pack', pack, one('177.5 F@10:20#T1 jar 24'))],
    state: 'held',
    rule: 'fill-perhaps-hot-enough',
  },
  {
    is: 'a second reading of the kind that a release accepted, added of another jar, holds again',
    checks: low,
    pack: perhaps,
    after: [accepted(), add('packs', pack, one('178 F@10:25#T1 jar 12'))],
    state: 'held',
    rule: 'fill-perhaps-hot-enough',
  },
  {
    is: 'a check corrected so that an accepted reading is colder holds it again',
    checks: lowBy('CKL'),
    pack: perhaps,
    after: [accepted(), correct('check', 'CKLB', { reads: '207.9 F' })],
    state: 'held',
    rule: 'fill-perhaps-hot-enough',
  },
  {
    is: 'a good reading moved away from an accepted one holds more jars, which nobody accepted',
    checks: low,
    pack: one('186 F@10:05#T1 jar 12;178 F@10:20#T1 jar 24'),
    after: [accepted(), correct('pack', pack, one('186 F@10:05#T1 jar 2;178 F@10:20#T1 jar 24'))],
    state: 'held',
    rule: 'fill-perhaps-hot-enough',
    jars: [[3, 24]],
  },
  {
    is: 'a pack corrected to one jar more than a release accepted is held',
    checks: low,
    pack: perhaps,
    after: [accepted(), correct('pack', pack, { jars: '25' })],
    state: 'held',
    rule: 'fill-perhaps-hot-enough',
  },
  {
    is: 'of seven readings that a release accepted, one that the sentence doesn’t name is corrected: held again',
    checks: low,
    pack: sevenReadings(seven),
    after: [accepted(), correct('pack', pack, sevenReadings([...seven.slice(0, 6), 178.8]))],
    state: 'held',
    rule: 'fill-perhaps-hot-enough',
  },
  {
    is: 'a reading by an unreliable thermometer that a release accepted, corrected to a colder one, holds again',
    after: [
      check('ice', '', { at: '2026-03-25T08:00', should: '', fit: 'no' }),
      accepted(),
      correct('pack', pack, one('186 F@10:05#T1 jar 1;185 F@10:15#T1 jar 12;181 F@10:25#T1 jar 24')),
    ],
    state: 'held',
    rule: 'thermometer-unreliable',
  },
  {
    is: 'a gap between readings that a release accepted, made longer by a correction, holds again',
    house: gaps,
    pack: one('186 F#T1 jar 3;186 F#T1 jar 24'),
    after: [accepted(), correct('pack', pack, one('186 F#T1 jar 1;186 F#T1 jar 24'))],
    state: 'held',
    rule: 'readings-too-far-apart',
  },
  {
    is: 'more syrup than a release of the boil accepted holds it again',
    ...tooSweet,
    after: [accepted(boil), correct('boil', boil, { syrupVolume: '4.5 gal' })],
    state: 'held',
    rule: 'more-sugar-than-came-in',
  },
  {
    is: 'less sugar in the sap than a release of the boil accepted holds it again',
    ...tooSweet,
    after: [accepted(boil), correct('gathering', 'G001', { sugar: '1.9 Bx' })],
    state: 'held',
    rule: 'more-sugar-than-came-in',
  },
  {
    is: 'a second mouldy jar after a release is held until others are inspected, and by that inspection again',
    after: [
      ...mouldInspected,
      accepted(),
      complaint('mould', { at: '2026-04-22T10:00', mould: 'yes', came: 'sealed' }),
      looked({ id: 'A2', at: '2026-04-23T15:00' }),
    ],
    state: 'held',
    rule: 'mould-looked-at',
  },
  {
    is: 'fewer sound jars than a release accepted hold again',
    after: [...mouldInspected, accepted(), correct('action', 'A1', { jarsSound: '2' })],
    state: 'held',
    rule: 'mould-looked-at',
  },
  {
    is: 'two mouldy jars of another pack of the boil hold one whose mouldy jar a release accepted',
    before: [],
    after: [
      another('pack', {
        lot: '26077A-2',
        packedAt: '2026-03-19T14:00',
        fromLots: '26077A:0.5 gal',
        jars: '8',
        fillTemps: '186 F#T1 jar 8',
      }),
      ...mouldInspected,
      accepted(),
      complaint('mould', { lot: '26077A-2', mould: 'yes', came: 'sealed' }),
      complaint('mould', { lot: '26077A-2', mould: 'yes', came: 'sealed' }),
    ],
    state: 'held',
    rule: 'mould-looked-at',
  },
  {
    is: 'a complaint answered as spoilage and accepted, then corrected to say more and answered again, holds again',
    after: [
      complaint('fuzzy on top', { id: 'C1' }),
      record('answers', { lot: pack, answer: 'yes' }),
      looked(),
      accepted(),
      correct('complaint', 'C1', { said: 'fuzzy on top, and it fizzed' }),
      record('answers', { lot: pack, answer: 'yes' }),
    ],
    state: 'held',
    rule: 'mould-looked-at',
  },
  {
    is: 'a second complaint of glass after a release holds again',
    after: [
      ...toldOfGlass,
      complaint('a shard of glass in the syrup', { id: 'C2' }),
      record('answers', { lot: pack, answer: 'yes' }),
    ],
    state: 'held',
    rule: 'harm-reported',
  },
  {
    is: 'a complaint that a release accepted, corrected to say worse, raises its question again',
    after: [...toldOfGlass, correct('complaint', 'C1', { said: 'a shard of glass in the syrup, she is in hospital' })],
    state: 'held',
    rule: 'harm-question',
  },
  {
    is: 'another cleaning without rinsing before the boil holds it again after a release',
    lot: boil,
    before: [record('cleanings', { at: '2026-03-17T18:00', what: 'tank', with: 'bleach', wasRinsed: 'no' })],
    after: [
      accepted(boil),
      record('cleanings', { at: '2026-03-17T19:00', what: 'tank', with: 'bleach', wasRinsed: 'no' }),
    ],
    state: 'held',
    rule: 'equipment-question',
  },
  {
    is: 'lead in a part, corrected to more than a release accepted, holds the boil again',
    lot: boil,
    before: [leadTest('LT9', '300 ppb', { at: '2026-03-10', lot: '', equipment: 'old pan' })],
    after: [accepted(boil), correct('lead-test', 'LT9', { lead: '900 ppb' })],
    state: 'held',
    rule: 'equipment-question',
  },
  {
    is: 'more lead than a release accepted holds again',
    after: [leadTest('LT9', '300 ppb'), accepted(), correct('lead-test', 'LT9', { lead: '900 ppb' })],
    state: 'held',
    rule: 'lead-over-limit',
  },
  {
    is: 'an earlier lead test, corrected to more than a release accepted beside a later one, holds again',
    after: [
      leadTest('LT8', '300 ppb'),
      leadTest('LT9', '300 ppb', { at: '2026-03-26T09:00' }),
      accepted(),
      correct('lead-test', 'LT8', { lead: '900 ppb' }),
    ],
    state: 'held',
    rule: 'lead-over-limit',
  },
  {
    is: 'a product that an authority allowed, corrected to another, holds again',
    pack: { product: 'cream' },
    after: [accepted(), correct('pack', pack, { product: 'infused with garlic' })],
    state: 'held',
    rule: 'outside-these-rules',
  },
  {
    is: 'a note of what was added, corrected beyond the part that the sentence quotes, holds again',
    pack: { note: added },
    after: [accepted(), correct('pack', pack, { note: `${added}, and walnuts` })],
    state: 'held',
    rule: 'outside-these-rules',
  },
  {
    // The correction judges what was poured from the corrected pack in the same write.
    is: 'a pack whose second poured product is corrected after its release is held at once, and no jar may leave',
    pack: { product: 'infused with garlic' },
    after: [
      accepted(),
      ...infusedFrom('cream'),
      accepted('26077A-2'),
      pouredTogether,
      accepted('26078X-1'),
      correct('pack', '26077A-2', { product: 'infused with walnuts' }),
      send('1', { lot: '26078X-1' }),
    ],
    lot: '26078X-1',
    state: 'held',
    rule: 'outside-these-rules',
    refuses: /Product other than pure maple syrup|outside|held/,
  },
];
