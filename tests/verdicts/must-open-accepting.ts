import { accepted, leadTest, low, perhaps, tooSweet } from './adversarial-accepting.js';
import { act, correct, pack, send, type VerdictCase } from './verdict-case.js';

/** What changes nothing of the finding that a release accepted leaves the lot released. */
export const acceptingSlips: readonly VerdictCase[] = [
  {
    is: 'one of the jars that a release accepted is destroyed: the others stay released',
    checks: low,
    pack: perhaps,
    after: [
      accepted(),
      act({ way: 'destroyed', jars: '7', found: 'a crack', done: 'thrown out', cause: 'jar-knocked' }),
    ],
    state: 'released',
  },
  {
    is: 'a jar that breaks and one that is sold leave a lot released',
    checks: low,
    pack: perhaps,
    after: [accepted(), send('1', { kind: 'broken', to: 'the shelf' }), send('1')],
    state: 'released',
  },
  {
    is: 'an amount that a release accepted, written in another way, leaves the boil released',
    ...tooSweet,
    after: [accepted(tooSweet.lot), correct('boil', tooSweet.lot, { syrupVolume: '16 qt' })],
    state: 'released',
  },
  {
    is: 'a correction of something else leaves a pack released',
    checks: low,
    pack: perhaps,
    after: [accepted(), correct('pack', pack, { containerPrep: 'boiled 12 min, filled hot' })],
    state: 'released',
  },
  {
    is: 'a lead test below the limit leaves a lot released that was over it',
    after: [leadTest('LT9', '300 ppb'), accepted(), leadTest('LT10', '20 ppb', { at: '2026-04-02T09:00' })],
    state: 'released',
  },
];
