import {
  act,
  check,
  checks,
  complaint,
  correct,
  pack,
  record,
  release,
  send,
  type VerdictCase,
} from './verdict-case.js';

const cold = 'fill-temperature';
const partlyCold = { fillTemps: '186 F#T1 jar 8;176 F#T1 jars 9-16;185 F#T1 jars 17-24' };

/**
 * Evidence that could make the verdict wrong on the unsafe side: invented to break the program, not taken from its
 * rules.
 */
export const mustHoldFresh: readonly VerdictCase[] = [
  {
    is: 'a warmer reading of the same jar doesn’t cancel a cold one if no record says that it was poured back',
    pack: { fillTemps: '186 F#T1 jar 1;176 F#T1 jar 12;186 F#T1 jar 12;185 F#T1 jar 24' },
    state: 'held',
    rule: cold,
  },
  {
    is: 'a reading of a jar that the pack doesn’t have frees none of its jars',
    pack: { fillTemps: '186 F#T1 jar 1;176 F#T1 jar 24;186 F#T1 jar 60' },
    state: 'held',
    rule: cold,
  },
  {
    is: 'an action dated before the jars were filled cures none of them',
    pack: { fillTemps: '176 F#T1 jar 24' },
    after: [
      act({
        at: '2026-03-19T08:00',
        way: 'reheated-and-repacked',
        jars: '1-24',
        fillTemps: '186 F jar 12;186 F jar 24',
      }),
    ],
    state: 'held',
    refuses: /a time after 26077A-1 was packed/,
  },
  {
    is: 'returned jars, though none had left, free no held jar',
    pack: partlyCold,
    after: [send('8', { kind: 'returned', sealed: '8', keptHow: 'cold', by: 'JP' }), send('17', { by: 'JP' })],
    state: 'held',
    refuses: /16 jars on hand may leave/,
  },
  {
    is: 'a count of more jars than were made frees no held jar',
    pack: partlyCold,
    after: [
      record('counts', { id: 'C01', lot: pack, jars: '40', countedAt: '2026-04-01T09:00', by: 'JP' }),
      send('17', { by: 'JP' }),
    ],
    state: 'held',
    refuses: /16 jars on hand may leave/,
  },
  {
    is: 'ice that “should read” 40 °F doesn’t make a thermometer right that reads 40 °F in it',
    after: [check('ice', '40 F', { should: '40 F' })],
    state: 'open',
    refuses: /the ice point/,
  },
  {
    is: 'water that “should boil” at 230 °F doesn’t make a thermometer right that reads 230 °F in it',
    after: [check('boiling-water', '230 F', { should: '230 F' })],
    state: 'open',
    refuses: /where water boils today/,
  },
  {
    is: 'a second thermometer that nobody named, which reads high, corrects the unnamed readings too',
    before: [
      record('instruments', { id: 'T2', what: 'thermometer', at: '2026-03-01T09:00' }),
      check('ice', '36 F', { instrument: 'T2' }),
      check('boiling-water', '214.4 F', { instrument: 'T2' }),
    ],
    pack: { fillTemps: '182 F jar 1;182 F jar 12;182 F jar 24' },
    state: 'held',
  },
  {
    is: 'a cold reading corrected to a warm one keeps the lot held until a maker releases it',
    pack: { fillTemps: '186 F#T1 jar 12;176 F#T1 jar 24' },
    after: [correct('pack', pack, { fillTemps: '186 F#T1 jar 12;186 F#T1 jar 24' })],
    state: 'held',
  },
  {
    is: 'a cold reading whose jar is corrected to one that was poured back before keeps the lot held',
    pack: { fillTemps: '186 F#T1 jar 12;176 F#T1 jar 24' },
    after: [correct('pack', pack, { fillTemps: '186 F#T1 jar 12;176 F#T1 jar 24;176 F#T1 jar 24 poured back' })],
    state: 'held',
  },
  {
    is: 'destroying other jars than the cold ones leaves the cold ones held',
    pack: partlyCold,
    after: [act({ way: 'destroyed', jars: '1-8', done: 'poured out' })],
    state: 'held',
    rule: cold,
  },
  {
    is: 'sap recorded later, sweeter than sap is, doesn’t open a boil that made more sugar than came in',
    gathering: { sugar: '1 Bx', volume: '90 gal' },
    boil: { gatherings: 'G001:90 gal', syrupVolume: '9 gal' },
    after: [correct('gathering', 'G001', { sugar: '7 Bx' })],
    state: 'held',
  },
  {
    is: 'a hydrometer made for hot syrup that reads 60.4 °Bx in it finds it too thin',
    pack: { densityCalibratedAt: '185 F' },
    state: 'held',
    rule: 'density-too-thin',
  },
  {
    is: 'jars are not sold before they were filled',
    after: [send('2', { sentAt: '2026-03-18T09:00', by: 'JP' })],
    state: 'open',
    refuses: /when 26077A-1 was packed/,
  },
  {
    is: 'illness confirmed by a maker is not released without an authority',
    after: [complaint('we both got sick from it'), record('answers', { lot: pack, answer: 'yes' }), release()],
    state: 'held',
    rule: 'harm-reported',
    refuses: /authority/,
  },
  ...[
    'my daughter was ill all night after the pancakes',
    'we both got sick from it',
    'he was vomiting after breakfast',
    'a piece of glass in the syrup',
    'something metal in my teeth',
    'it tastes of bleach',
    'smells of diesel',
    'it fizzed when I opened it',
    'foam under the lid and a sour smell',
    'des éclats de verre dans le pot',
    'mon fils a été malade',
  ].map((text): VerdictCase => ({
    is: `“${text}” raises a question and holds`,
    after: [complaint(text)],
    state: 'held',
  })),
];

/** A family's ordinary slips, none of which may hold a good lot. */
export const freshSlips: readonly VerdictCase[] = [
  {
    is: 'temperatures without a space and in small letters',
    pack: { fillTemps: '186f#t1 jar 1;185f#t1 jar 12;184f#t1 jar 24' },
    state: 'open',
  },
  { is: 'a defoamer of “no”', boil: { defoamer: 'no' }, state: 'open' },
  { is: 'a defoamer of “nothing”', boil: { defoamer: 'nothing' }, state: 'open' },
  { is: 'a defoamer of “not used”', boil: { defoamer: 'not used' }, state: 'open' },
  {
    is: 'a note that the cellar smelled of mould last year, in another place',
    pack: { note: 'no mould seen, lids all tight' },
    state: 'open',
  },
  {
    is: 'one jar more on the shelf than there can be',
    after: [record('counts', { id: 'C01', lot: pack, jars: '25', countedAt: '2026-04-01T09:00', by: 'JP' })],
    state: 'open',
  },
  {
    is: 'colour in small letters and no transmittance',
    pack: { transmittance: '', colourClass: 'amber' },
    state: 'open',
  },
  {
    is: 'a complaint that the lid was sticky',
    after: [
      record('complaints', {
        lot: pack,
        at: '2026-04-20T10:00',
        from: 'a buyer',
        said: 'the lid was sticky and hard to open',
        mould: 'no',
      }),
    ],
    state: 'open',
  },
  {
    is: 'two checks of one thermometer on one day that differ by a degree',
    checks: [...checks('32 F', '210.4 F'), check('ice', '33 F', { at: '2026-03-17T09:00' })],
    state: 'open',
  },
  {
    is: 'a boil that is finished a minute after midnight',
    boil: { finishedAt: '2026-03-19T00:01', restedFrom: '2026-03-19T00:05' },
    state: 'open',
  },
  { is: 'jars sold one more than were made, by mistake', after: [send('25', { by: 'JP' })], state: 'open' },
  {
    is: 'syrup whose clarity and flavour were not recorded',
    pack: { clarity: '', offFlavour: '', containerPrep: '' },
    state: 'open',
  },
  {
    is: 'temperatures with a decimal comma',
    pack: { fillTemps: '85,5 C#T1 jar 1;85,2 C#T1 jar 12;84,9 C#T1 jar 24' },
    state: 'open',
  },
  {
    is: 'a complaint of glass that a maker answers with no',
    after: [complaint('a piece of glass in the syrup'), record('answers', { lot: pack, answer: 'no' })],
    state: 'open',
  },
  ...[
    'nobody was ill, we loved it',
    'wire rack looks lovely with it',
    'sick of store syrup, yours is lovely',
    'an ill-fitting label',
    'the glass jar is pretty',
    'the metal cap is hard to turn',
  ].map((text): VerdictCase => ({ is: `a buyer who writes “${text}”`, after: [complaint(text)], state: 'open' })),
];
