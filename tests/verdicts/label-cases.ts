import { blended, boughtSyrup, butterLater, milk, printed, printedAnew, replaced } from './label-steps.js';
import { pouredFrom } from './stock-cases.js';
import { earlierBoil } from './undone-evenings.js';
import { act, add, another, correct, record, type VerdictCase } from './verdict-case.js';

const undeclared = 'undeclared-allergen';

/** Allergens recorded after labels were printed. */
export const undeclaredOnHand: readonly VerdictCase[] = [
  {
    is: 'butter recorded after labels without milk were printed holds the labelled jars',
    after: [printed(), butterLater],
    state: 'held',
    rule: undeclared,
    says: /labels of jars 1–24 printed 2026-03-20 \(LB1\) do not declare milk/,
  },
  {
    is: 'milk answered by a corrective action after labels were printed holds them',
    after: [printed(), act({ jars: '', cause: '', found: 'butter', done: 'asked', defoamerAllergens: 'milk' })],
    state: 'held',
    rule: undeclared,
  },
  {
    is: 'butter named in the log of the boil after labels were printed holds them',
    boil: { defoamer: 'butter', defoamerAllergens: 'milk' },
    after: [
      printed({ allergens: 'milk' }),
      record('lines', { lot: '26077A', at: '2026-03-18T12:00', what: 'defoamer', note: 'peanut oil' }),
      add('boils', '26077A', { note: 'peanut oil was in it too' }),
      correct('boil', '26077A', { defoamerAllergens: 'milk and peanuts' }),
    ],
    state: 'held',
    rule: undeclared,
    says: /do not declare peanuts/,
  },
  {
    is: 'milk answered for bought syrup after labels were printed holds them',
    before: [boughtSyrup()],
    pack: blended,
    after: [printed({ lot: '26078X-1' }), correct('receipt', 'R001', { allergens: 'milk' }, 'the seller called')],
    lot: '26078X-1',
    state: 'held',
    rule: undeclared,
  },
  {
    is: 'butter recorded of an earlier boil in the same pans holds what was labelled since',
    before: [earlierBoil],
    after: [printed(), correct('boil', '26076A', milk)],
    state: 'held',
    rule: undeclared,
  },
  {
    is: 'butter recorded of the boil holds a labelled pack that was poured from its first one',
    after: [pouredFrom('2026-03-21T13:00'), printed({ lot: '26077A-2', to: '8', at: '2026-03-22T12:00' }), butterLater],
    lot: '26077A-2',
    state: 'held',
    rule: undeclared,
  },
  {
    is: 'milk answered by an action on the first pack holds a labelled pack that was poured from it',
    after: [
      pouredFrom('2026-03-21T13:00'),
      printed({ lot: '26077A-2', to: '8', at: '2026-03-22T12:00' }),
      act({ jars: '', cause: '', found: 'butter', done: 'asked', defoamerAllergens: 'milk' }),
    ],
    lot: '26077A-2',
    state: 'held',
    rule: undeclared,
  },
  {
    is: 'milk answered by an action on one pack holds a labelled other one of the boil',
    after: [
      another('pack', {
        packedAt: '2026-03-19T14:00',
        jars: '8',
        fromLots: '26077A:0.5 gal',
        fillTemps: '186 F#T1 jar 8',
      }),
      printed({ lot: '26077A-2', to: '8' }),
      act({ jars: '', cause: '', found: 'butter', done: 'asked', defoamerAllergens: 'milk' }),
    ],
    lot: '26077A-2',
    state: 'held',
    rule: undeclared,
  },
  {
    is: 'wrong labels that are corrected to spoiled ones leave the lot to a maker',
    after: [printed(), butterLater, correct('labels', 'LB1', { what: 'spoiled' })],
    state: 'held',
  },
  {
    is: 'labels of an older book, which doesn’t hold what they declare, are judged by when they were printed',
    after: [printed({ allergens: '', quantity: '', ended: '24' }), butterLater],
    state: 'held',
    rule: undeclared,
    says: /printed 2026-03-20 \(LB1\) do not declare milk/,
  },
  {
    is: 'only the jars that were labelled are held',
    after: [printed({ to: '12' }), butterLater],
    state: 'held',
    rule: undeclared,
    jars: [[1, 12]],
  },
  {
    is: 'labels whose allergens nobody recorded hold once milk is recorded',
    after: [printed({ allergens: '' }), butterLater],
    state: 'held',
    rule: undeclared,
    says: /declare milk is not recorded/,
  },
  {
    is: 'labels whose allergens nobody recorded, printed with milk on record, hold too',
    boil: milk,
    after: [printed({ allergens: '' })],
    state: 'held',
    rule: undeclared,
  },
  {
    is: 'labels that declare almonds don’t declare pecans',
    boil: { defoamer: 'nut oil', defoamerAllergens: 'almonds' },
    after: [printed({ allergens: 'almonds (tree nuts)' }), correct('boil', '26077A', { defoamerAllergens: 'pecans' })],
    state: 'held',
    rule: undeclared,
    says: /do not declare pecans/,
  },
  {
    is: 'new labels alone don’t prove that the jars were relabelled',
    after: [printed(), butterLater, printedAnew()],
    state: 'held',
    rule: 'labels-replaced',
    says: /whether they replaced the old ones on the jars is not recorded/,
  },
  {
    is: 'new labels without the allergen leave the lot held',
    after: [printed(), butterLater, printedAnew({ allergens: 'soy' })],
    state: 'held',
    rule: undeclared,
  },
  {
    is: 'new labels for some jars leave the others held, and no release opens the lot',
    after: [printed(), butterLater, printedAnew({ to: '12' }), replaced],
    state: 'held',
    rule: undeclared,
    says: /labels of jars 13–24/,
    refuses: /stays held/,
  },
  {
    is: 'labels that declare milk, dated before the wrong ones, replace nothing',
    after: [printedAnew({ at: '2026-03-19T12:00' }), printed(), butterLater],
    state: 'held',
    rule: undeclared,
  },
  {
    is: 'no release opens a lot before new labels were printed',
    after: [printed(), butterLater, replaced],
    state: 'held',
    rule: undeclared,
    refuses: /Print new labels/,
  },
  {
    is: 'new labels that were spoiled, as recorded after the release, hold the lot again',
    after: [printed(), butterLater, printedAnew(), replaced, correct('labels', 'LB2', { what: 'spoiled' })],
    state: 'held',
    rule: undeclared,
  },
  {
    is: 'another allergen recorded after the release holds the lot again',
    after: [
      printed(),
      butterLater,
      printedAnew(),
      replaced,
      correct('boil', '26077A', { defoamerAllergens: 'milk and soy' }),
    ],
    state: 'held',
    rule: undeclared,
    says: /do not declare soy/,
  },
  {
    is: 'spoiled labels show nothing of what is on the jars',
    after: [printed(), butterLater, printed({ id: 'LB3', what: 'spoiled', at: '2026-04-20T12:00' })],
    state: 'held',
    rule: undeclared,
  },
];
