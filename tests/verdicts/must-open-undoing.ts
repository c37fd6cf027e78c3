import { blended, earlierBoil, foundHigh } from './undone-evenings.js';
import {
  act,
  another,
  check,
  complaint,
  correct,
  hold,
  pack,
  record,
  release,
  remove,
  send,
  type VerdictCase,
} from './verdict-case.js';

/** Slips that are put right the same evening, and hold nothing for nothing. */
export const undoingSlips: readonly VerdictCase[] = [
  {
    is: 'a sale entered twice and voided once',
    after: [send('6', { id: 'S8' }), send('6', { id: 'S9' }), remove('dispatch', 'S9')],
    state: 'open',
  },
  {
    is: 'a good reading corrected by a degree',
    after: [correct('pack', pack, { fillTemps: '187 F@10:05#T1 jar 1;185 F@10:15#T1 jar 12;184 F@10:25#T1 jar 24' })],
    state: 'open',
  },
  { is: 'a note added by correction', after: [correct('pack', pack, { note: 'labels to come' })], state: 'open' },
  {
    is: 'a pack corrected to half an hour later',
    after: [correct('pack', pack, { packedAt: '2026-03-19T09:50' })],
    state: 'open',
  },
  {
    is: 'another thermometer found high, where every reading names the good one',
    before: [record('instruments', { id: 'T2', what: 'thermometer', at: '2026-03-01T09:00' })],
    after: foundHigh({ instrument: 'T2' }),
    state: 'open',
  },
  {
    is: 'a check of another thermometer entered and voided',
    before: [record('instruments', { id: 'T2', what: 'thermometer', at: '2026-03-01T09:00' })],
    after: [...foundHigh({ instrument: 'T2' }), remove('check', 'CKI'), remove('check', 'CKB')],
    state: 'open',
  },
  {
    is: 'another pack of the boil, held by hand',
    after: [
      another('pack', {
        lot: '26077A-2',
        packedAt: '2026-03-19T14:00',
        fromLots: '26077A:0.5 gal',
        jars: '8',
        fillTemps: '186 F#T1 jar 8',
      }),
      hold('26077A-2'),
    ],
    state: 'open',
  },
  {
    is: 'another pack of the boil, cold and poured away',
    after: [
      another('pack', {
        lot: '26077A-2',
        packedAt: '2026-03-19T14:00',
        fromLots: '26077A:0.5 gal',
        jars: '8',
        fillTemps: '170 F#T1 jar 8',
      }),
    ],
    state: 'open',
  },
  {
    is: 'a boil held by mistake and released',
    after: [hold('26077A'), release('the wrong boil', '26077A'), send('6')],
    state: 'released',
  },
  {
    is: 'one of two boils held by mistake and released',
    before: [earlierBoil],
    pack: blended,
    after: [hold('26076A'), release('the wrong boil', '26076A'), send('6', { lot: '26078X-1' })],
    lot: '26078X-1',
    state: 'released',
  },
  {
    is: 'a good check entered twice and voided once',
    after: [check('ice', '32 F', { id: 'CKI', at: '2026-03-20T08:00' }), remove('check', 'CKI')],
    state: 'open',
  },
  {
    is: 'a harmless complaint, corrected',
    after: [complaint('very nice', { id: 'C9' }), correct('complaint', 'C9', { said: 'very nice indeed' })],
    state: 'open',
  },
  {
    is: 'a count of the shelf, voided',
    after: [
      record('counts', { id: 'K1', lot: pack, jars: '24', countedAt: '2026-04-01T09:00', by: 'JP' }),
      remove('count', 'K1'),
    ],
    state: 'open',
  },
  {
    is: 'an action on good jars, its words corrected',
    after: [
      act({ id: 'A1', way: 'inspected', jars: '1-4', cause: 'slow-filling', done: 'opened and tasted' }),
      correct('action', 'A1', { done: 'opened, tasted and eaten' }),
    ],
    state: 'open',
  },
];
