import { act, complaint, correct, hold, pack, recall, record, release, send } from './verdict-case.js';
import type { Texts, VerdictCase } from './verdict-case.js';

const halfCold: Texts = { fillTemps: '186 F#T1 jar 12;178 F#T1 jar 24' };
const destroyed = (jars: string, more: Texts = {}) => send(jars, { kind: 'destroyed', to: 'compost', ...more });
const threwAll = act({
  way: 'destroyed',
  jars: 'all',
  found: 'see the complaint',
  done: 'thrown out',
  cause: 'unknown',
});
const seals = (sealsFailed: string, sealsOutcome: string): Texts => ({ sealsFailed, sealsOutcome });

/** Jars that leave too early, too many, or from a lot that may not go: each was accepted when it was first tried. */
export const leavingAttacks: readonly VerdictCase[] = [
  ...(['11:00', '21:59'] as const).map((clock): VerdictCase => ({
    is: `jars filled from ten to 10:25 are not sold at ${clock}, before their lids can be checked`,
    after: [send('6', { sentAt: `2026-03-19T${clock}` })],
    state: 'open',
    refuses: /from 2026-03-19 22:25/,
  })),
  {
    is: 'a sample for a shop before the seals were checked is refused',
    pack: { sealsFailed: '' },
    after: [send('1', { kind: 'sample' })],
    state: 'open',
    refuses: /seal/,
  },
  {
    is: 'jars filled again at three are not sold that evening',
    pack: { fillTemps: '178 F#T1 jar 12;177 F#T1 jar 24' },
    after: [
      act({ jars: 'all', fillTemps: '188 F#T1 jar 12;187 F#T1 jar 24', sealsFailed: '0' }),
      release('filled again'),
      send('6', { sentAt: '2026-03-19T20:00' }),
    ],
    state: 'released',
    refuses: /from 2026-03-20 03:00/,
  },
  {
    is: 'jars whose seals failed are not sold with the rest by count',
    pack: seals('2', 'refrigerated, used at home'),
    after: [send('23')],
    state: 'open',
    refuses: /22 more jars/,
  },
  ...['donated to the food pantry, kept cold', 'used at the church supper', 'traded for eggs, kept cold'].map(
    (outcome): VerdictCase => ({
      is: `failed seals “${outcome}” went to somebody`,
      pack: seals('2', outcome),
      state: 'held',
      rule: 'seals-failed',
    }),
  ),
  {
    is: 'jars destroyed by count allow no sale by count, since which jars they were is unknown',
    pack: halfCold,
    after: [destroyed('12'), send('12')],
    state: 'held',
    refuses: /0 jars on hand may leave/,
  },
  {
    is: 'a pack with all jars recorded as destroyed waits for a release',
    pack: { fillTemps: '178 F#T1 jar 12;177 F#T1 jar 24' },
    after: [destroyed('24')],
    state: 'held',
  },
  {
    is: 'destroyed jars can’t be corrected to sold ones',
    pack: { fillTemps: '178 F#T1 jar 12;177 F#T1 jar 24' },
    after: [destroyed('24', { id: 'S9' }), correct('dispatch', 'S9', { kind: 'sale' })],
    state: 'held',
    refuses: /held/,
  },
  {
    is: 'held jars recorded as destroyed can’t be corrected to given ones',
    after: [hold(), destroyed('2', { id: 'S9' }), correct('dispatch', 'S9', { kind: 'gift' })],
    state: 'held',
    refuses: /held/,
  },
  {
    is: 'returned jars that were not inspected are not sold again',
    after: [
      send('24'),
      send('4', { kind: 'returned', sentAt: '2026-04-20T09:00' }),
      send('2', { sentAt: '2026-04-25T09:00' }),
    ],
    state: 'open',
    refuses: /apart/,
  },
  {
    is: 'jars kept at home are not counted as free twice',
    pack: halfCold,
    after: [send('12', { kind: 'kept' }), send('1')],
    state: 'held',
    refuses: /0 jars/,
  },
];

export const leavingSlips: readonly VerdictCase[] = [
  {
    is: 'jars sold thirteen hours after they were filled',
    after: [send('6', { sentAt: '2026-03-19T23:00' })],
    state: 'open',
  },
  {
    is: 'jars sold an hour after they were filled, reported as already gone',
    after: [send('6', { sentAt: '2026-03-19T11:00', alreadyLeft: 'yes' })],
    state: 'open',
    advises: 'already-left',
  },
  {
    is: 'a jar kept at home before the seals were checked',
    pack: { sealsFailed: '' },
    after: [send('1', { kind: 'kept' })],
    state: 'open',
  },
  {
    is: 'a sample for a laboratory before the seals were checked',
    pack: { sealsFailed: '' },
    after: [send('1', { kind: 'sample', laboratory: 'yes' })],
    state: 'open',
  },
  {
    is: 'all but the two whose seals failed',
    pack: seals('2', 'refrigerated, used at home'),
    after: [send('22')],
    state: 'open',
  },
  {
    is: 'two jars whose seals failed, packed again and sold with the rest',
    pack: seals('2', 'packed again'),
    after: [send('24')],
    state: 'open',
  },
  ...['mis au frigo, mangés à la maison', 'put in fridge', 'set aside, will be eaten first', 'reprocessed'].map(
    (outcome): VerdictCase => ({ is: `failed seals “${outcome}”`, pack: seals('2', outcome), state: 'open' }),
  ),
  {
    is: 'cold jars all recorded as destroyed, and released',
    pack: { fillTemps: '178 F#T1 jar 12;177 F#T1 jar 24' },
    after: [destroyed('24'), release('all of it is gone')],
    state: 'released',
  },
  {
    is: 'a mouldy pack of which every jar was destroyed, and released',
    after: [complaint('mould', { mould: 'yes', came: 'sealed' }), threwAll, release('all of it is gone')],
    state: 'released',
  },
  {
    is: 'a pack with glass in a jar of which every jar was destroyed, and released',
    after: [
      complaint('a shard of glass in the syrup'),
      record('answers', { lot: pack, answer: 'yes' }),
      threwAll,
      release('all of it is gone'),
    ],
    state: 'released',
  },
  {
    is: 'jars of a recalled lot that are destroyed',
    after: [recall(), destroyed('3')],
    state: 'recalled',
  },
  {
    is: 'returned jars, sealed and kept cold, sold again',
    after: [
      send('24'),
      send('4', { kind: 'returned', sentAt: '2026-04-20T09:00', sealed: '4', keptHow: 'cold' }),
      send('2', { sentAt: '2026-04-25T09:00' }),
    ],
    state: 'open',
  },
];
