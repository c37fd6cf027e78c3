import { act, add, check, checks, complaint, pack, record, release, send, one } from './verdict-case.js';
import type { Step, Texts, VerdictCase } from './verdict-case.js';

/**
 * Cases that don't depend on the way in: run by the API on SQLite only. Each was judged wrongly when it was first
 * tried.
 */
const halfCold = one('186 F#T1 jar 12;178 F#T1 jar 24');
const instrument = (id: string, what: string): Step => record('instruments', { id, what, at: '2026-03-01T09:00' });
const up: Texts = { elevation: '1400 ft' };
const inDrum: Texts = { fromLots: '26077A:10 gal', container: 'drum 10 gal', jars: '1', fillTemps: '186 F#T1 jar 1' };
const sample: Texts = { densityAt: '68 F', densityBy: 'refractometer' };
const watery = (came: string): Step => complaint('a bit watery', { ...sample, density: '62 Bx', came, mould: 'no' });
const pourBackHalf = act({ way: 'poured-back', jars: '13-24', done: 'poured back' });
const packHalfAgain = [act({ jars: '13-24', fillTemps: '188 F@15:20#T1 jar 24' }), release('packed again')];

export const singleChannelCases: readonly VerdictCase[] = [
  {
    is: '212 °F 1,400 ft up is not where water boils',
    house: up,
    after: [check('boiling-water', '212 F', { should: '212 F' })],
    state: 'open',
    refuses: /209\.4 F at 1400 ft/,
  },
  {
    is: 'a pressure reduced to sea level is not accepted as station pressure',
    house: up,
    after: [check('boiling-water', '211.9 F', { should: '', pressure: '29.9 inHg' })],
    state: 'open',
    refuses: /not reduced to sea level/,
  },
  {
    is: 'the day’s station pressure is accepted',
    house: up,
    after: [check('boiling-water', '209.5 F', { should: '', pressure: '28.4 inHg' })],
    state: 'open',
  },
  {
    is: 'a sample by a thermometer 8 °F high is colder, and its syrup thinner, than it looks',
    before: [instrument('T2', 'thermometer'), ...checks('40 F', '218.4 F', { instrument: 'T2' })],
    pack: { instruments: 'T2' },
    state: 'held',
    rule: 'density-measure-again',
    says: /T2, which reads 8 °F high/,
  },
  {
    is: 'a later check has the same effect',
    before: [instrument('T2', 'thermometer')],
    pack: { instruments: 'T2' },
    after: [...checks('40 F', '218.4 F', { instrument: 'T2', at: '2026-03-25T08:00' })],
    state: 'held',
    rule: 'density-measure-again',
  },
  {
    is: 'a sample by a thermometer that reads low is thicker than it looks',
    before: [instrument('T2', 'thermometer'), ...checks('27 F', '205.4 F', { instrument: 'T2' })],
    pack: { instruments: 'T2' },
    state: 'open',
  },
  {
    is: 'a reading that names the hydrometer is taken as one by the thermometer, which reads 5 °F high',
    before: [instrument('H1', 'hydrometer')],
    checks: checks('37 F', '215.4 F'),
    pack: { ...one('183 F#H1 jar 12;183 F#H1 jar 24'), densityReading: '67.5 Bx', densityAt: '60 F' },
    state: 'held',
    rule: 'fill-temperature',
  },
  {
    is: 'syrup is not packed days before it was bought',
    before: [
      record('receipts', {
        id: 'R001',
        supplier: 'Bracken Lane Sugarbush',
        contact: 'Bracken Lane',
        volume: '10 gal',
        receivedAt: '2026-03-25T09:00',
        by: 'OE',
      }),
    ],
    pack: { fromLots: '26077A:0.75 gal;R001:0.75 gal' },
    refuses: /R001 was received/,
  },
  {
    is: 'a sealed jar that came back and measures 62 °Bx holds its lot',
    after: [watery('sealed')],
    state: 'held',
    rule: 'density-measure-again',
  },
  {
    is: 'a retained jar that passes clears the lot',
    after: [
      watery('sealed'),
      act({
        jars: 'all',
        at: '2026-04-21T15:00',
        found: 'watery',
        done: 'read a retained jar',
        ...sample,
        densityReading: '67.2 Bx',
      }),
      release('a retained jar reads 67.2'),
    ],
    state: 'released',
  },
  {
    is: 'a jar that was diluted at the table doesn’t affect the others',
    after: [watery('opened-warm')],
    state: 'open',
  },
  {
    is: 'of a pack half poured back no more jars are sold than are left',
    pack: halfCold,
    after: [pourBackHalf, release('the cold ones are gone'), send('13')],
    state: 'released',
    refuses: /12 jars left/,
  },
  {
    is: 'jars that were not packed again are sold before the others’ seals are checked',
    pack: halfCold,
    after: [...packHalfAgain, send('12')],
    state: 'released',
  },
  {
    is: 'jars that were packed again are not sold before their seals are checked',
    pack: halfCold,
    after: [...packHalfAgain, send('13')],
    state: 'released',
    refuses: /seals of jars 13–24 were not checked.*12 others may/,
  },
  {
    is: 'jars that were not packed again are sold by number too',
    pack: halfCold,
    after: [...packHalfAgain, send('jars 12-13')],
    state: 'released',
    refuses: /seals of jars 13–24/,
  },
  {
    is: 'cold jars written as destroyed by their numbers are gone, and the rest is sold',
    pack: halfCold,
    after: [send('jars 13-24', { kind: 'destroyed', to: 'compost' }), release('gone'), send('12')],
    state: 'released',
  },
  {
    is: 'a jar that the pack doesn’t have can’t be listed',
    after: [send('jars 20-30')],
    state: 'open',
    refuses: /jar numbers from 1 to 24/,
  },
  {
    is: 'a lot is opened by no class that is added after an off flavour was recorded',
    boil: { syrupVolume: '11 gal', sapVolume: '600 gal', gatherings: '' },
    pack: { ...inDrum, offFlavour: 'musty', colourClass: '', transmittance: '' },
    after: [add('packs', pack, { colourClass: 'Processing' })],
    state: 'held',
  },
  {
    is: 'a density read by an instrument that nobody recorded doesn’t pass as a hydrometer’s',
    pack: { densityBy: '' },
    state: 'held',
    rule: 'density-not-read',
    says: /instrument not recorded/,
  },
  {
    is: 'recording the instrument opens it without a release',
    pack: { densityBy: '' },
    after: [add('packs', pack, { densityBy: 'hydrometer' })],
    state: 'open',
  },
  {
    is: '“see label” is no answer for a defoamer',
    boil: { defoamer: 'drops from the dealer', defoamerAllergens: 'see label' },
    state: 'held',
    rule: 'defoamer-allergens',
  },
  {
    is: 'pots and bocaux are jars',
    pack: one('186 F#T1 pots 1-12;178 F#T1 bocaux 13-24'),
    state: 'held',
    jars: [[13, 24]],
  },
  {
    is: 'a note that a jar broke at filling raises the question of glass in the others',
    pack: { note: 'a jar broke while filling, glass all over the bench' },
    state: 'held',
    rule: 'harm-question',
    says: /which jar it broke/,
  },
  {
    is: 'the answer no is one tap, if it broke empty and away from them',
    pack: { note: 'a jar broke while filling, glass all over the bench' },
    after: [record('answers', { lot: pack, answer: 'no' })],
    state: 'open',
  },
  {
    is: 'the jars beside it are held if the broken jar’s number is recorded',
    pack: { note: 'a jar broke while filling', brokenGlass: '12' },
    state: 'held',
    rule: 'broken-glass',
    jars: [[10, 14]],
  },
  {
    is: 'a dab of butter in the foam, by the note of the boil, contradicts a defoamer of none',
    boil: { note: 'foamed over twice, used a dab of butter' },
    state: 'held',
    rule: 'defoamer-allergens',
  },
  {
    is: 'butter on the crew’s pancakes is not in the boil',
    boil: { note: 'pancakes with butter for the crew' },
    state: 'open',
  },
  {
    is: 'cold jars are destroyed by count if every other jar left by its number',
    pack: halfCold,
    after: [send('jars 1-12'), send('12', { kind: 'destroyed', to: 'compost' }), release('none is left')],
    state: 'released',
  },
  {
    is: 'destroying one fewer than are left frees none of them',
    pack: halfCold,
    after: [send('jars 1-12'), send('11', { kind: 'destroyed', to: 'compost' }), release('none is left')],
    state: 'held',
    jars: [[13, 24]],
    refuses: /cold|temperature/,
  },
  {
    is: 'a lead result under the limit doesn’t undo the one over it',
    after: [
      record('lead-tests', { at: '2026-03-25T09:00', lot: pack, lead: '900 ppb' }),
      record('lead-tests', { at: '2026-04-02T09:00', lot: pack, lead: '90 ppb' }),
    ],
    state: 'held',
    rule: 'lead-over-limit',
    says: /the results disagree/,
  },
  {
    is: 'a complaint in words that are on no list holds until it is answered',
    after: [complaint('lid came up by itself')],
    state: 'held',
    rule: 'spoilage-question',
    says: /whether it has spoiled is not known/,
  },
  {
    is: 'the answer no is one tap and needs no release',
    after: [complaint('lid came up by itself'), record('answers', { lot: pack, answer: 'no' })],
    state: 'open',
  },
  {
    is: 'a complaint with its answer raises no question',
    after: [complaint('lid came up by itself', { mould: 'no' })],
    state: 'open',
  },
  { is: 'plain praise raises no question', after: [complaint('très bon, the kids love it')], state: 'open' },
  {
    is: 'glass that broke at a jar that the pack doesn’t have may be in any of them',
    pack: { brokenGlass: '30' },
    state: 'held',
    rule: 'broken-glass',
    says: /the pack has 24 jars/,
  },
  {
    is: 'broken glass without a jar number holds every jar',
    pack: { brokenGlass: 'all' },
    state: 'held',
    rule: 'broken-glass',
    says: /at which jar is not recorded, so any of them/,
  },
  {
    is: '“homemade drops” doesn’t say what is in them',
    boil: { defoamer: 'homemade drops', defoamerAllergens: 'none' },
    state: 'held',
    rule: 'defoamer-allergens',
  },
];
