import { undeclaredOnHand } from './label-cases.js';
import {
  asked,
  blended,
  boughtSyrup,
  butterLater,
  eightSold,
  milk,
  printed,
  printedAnew,
  replaced,
} from './label-steps.js';
import { add, correct, open, pack, release, send, type VerdictCase } from './verdict-case.js';

const sentWithout = 'undeclared-allergen-sent';

/** Allergens, or a smaller container, recorded after labels were printed or jars were sold. */
export const labelAttacks: readonly VerdictCase[] = [
  ...undeclaredOnHand,
  {
    is: 'jars that were sold before milk was recorded are named with their buyer',
    after: [printed(), eightSold(), butterLater],
    state: 'held',
    rule: sentWithout,
    says: /8 jars of 26077A-1 went out.*milk: 8 to Millrace Green market 2026-04-11/,
  },
  {
    is: 'jars that were all sold before milk was recorded are still reported',
    after: [printed(), send('24'), butterLater],
    state: 'held',
    rule: sentWithout,
  },
  {
    is: 'jars sold by number are judged by their own labels',
    after: [printed({ to: '8' }), printedAnew({ from: '9', allergens: 'milk' }), send('jars 1-4'), butterLater],
    state: 'held',
    rule: sentWithout,
    says: /4 jars of 26077A-1 went out/,
  },
  {
    is: 'jars sold before milk was recorded, with no label on record, are reported too',
    after: [eightSold(), butterLater],
    state: 'held',
    rule: sentWithout,
  },
  {
    is: 'jars given away as samples are reported too',
    after: [printed(), eightSold({ kind: 'sample' }), butterLater],
    state: 'held',
    rule: sentWithout,
  },
  {
    is: 'a sale that is recorded after milk was, and dated before it, is reported',
    after: [printed(), butterLater, eightSold({ alreadyLeft: 'yes' })],
    state: 'held',
    rule: sentWithout,
  },
  {
    is: 'a maker’s reason doesn’t settle jars that were sold: an authority is asked',
    after: [printed(), eightSold(), butterLater, printedAnew(), replaced],
    state: 'held',
    rule: sentWithout,
    refuses: /authority/,
  },
  {
    is: 'jars that left after new labels were printed, before anybody confirmed them, may carry the old ones',
    after: [printed(), butterLater, printedAnew(), eightSold({ sentAt: '2026-04-25T09:00', alreadyLeft: 'yes' })],
    state: 'held',
    rule: sentWithout,
  },
  {
    is: 'milk that a correction takes away again leaves the lot to a maker',
    after: [printed(), butterLater, correct('boil', '26077A', { defoamer: 'none', defoamerAllergens: '' })],
    state: 'held',
  },
  {
    is: 'bought syrup whose allergens nobody recorded holds what it was blended into',
    before: [boughtSyrup({ allergens: '' })],
    pack: blended,
    lot: '26078X-1',
    state: 'held',
    rule: 'bought-syrup-allergens',
  },
  {
    is: 'bought syrup whose allergens nobody recorded holds the boil that it was poured into',
    before: [boughtSyrup({ allergens: '' })],
    boil: { gatherings: 'G001:120 gal;R001:1 gal' },
    state: 'held',
    rule: 'bought-syrup-allergens',
  },
  {
    is: 'a smaller container recorded after labels were printed holds the labelled jars',
    pack: { container: 'glass jar 16 fl oz', jars: '12', fillTemps: '186 F#T1 jar 6;185 F#T1 jar 12' },
    after: [
      printed({ to: '12', quantity: '16 fl oz' }),
      correct('pack', pack, { container: 'glass jar 12 fl oz' }, 'measured one'),
    ],
    state: 'held',
    rule: 'label-net-quantity',
    says: /state 16 fl oz, and the container is recorded as glass jar 12 fl oz/,
  },
  {
    is: 'new labels for a smaller container wait for a maker’s confirmation',
    after: [printed({ quantity: '12 fl oz' }), printedAnew({ allergens: 'none' })],
    state: 'held',
    rule: 'labels-replaced',
  },
];

/** The same on the sound side: nothing holds, or the way out ends the hold. */
export const labelSlips: readonly VerdictCase[] = [
  open('milk recorded before labels that declare it were printed holds nothing', {
    boil: milk,
    after: [printed({ allergens: 'Milk' }), eightSold()],
  }),
  open('milk on record from the first, sold without labels on record, holds nothing', {
    boil: milk,
    after: [eightSold()],
  }),
  open('labels of an older book, printed with milk on record, hold nothing', {
    boil: milk,
    after: [printed({ allergens: '', quantity: '', ended: '24' })],
  }),
  open('labels of syrup without allergens hold nothing, whatever else is corrected', {
    after: [printed(), eightSold(), correct('pack', pack, { note: 'Aunt Ida helped' })],
  }),
  open('milk on record with labels in other words for it', {
    boil: milk,
    after: [printed({ allergens: 'Milk / Lait' }), correct('boil', '26077A', { defoamerAllergens: 'butter' })],
  }),
  open('an allergen taken off the record leaves labels that declare too much', {
    boil: { defoamer: 'Foamaway', defoamerAllergens: 'milk' },
    after: [printed({ allergens: 'Milk' }), correct('boil', '26077A', { defoamerAllergens: 'none' })],
    advises: 'labels-out-of-date',
    says: /declare Milk, which is not recorded/,
  }),
  open('a larger container than the labels state is an advisory', {
    pack: { fromLots: '26077A:2 gal' },
    after: [printed(), correct('pack', pack, { container: 'glass jar 250 mL' })],
    advises: 'labels-out-of-date',
  }),
  open('the same quantity in millilitres is the same quantity', {
    after: [printed({ quantity: '237 mL' })],
  }),
  open('labels that were spoiled before any was put on hold nothing', {
    boil: milk,
    after: [printed({ what: 'spoiled' }), printedAnew()],
  }),
  open('an allergen recorded before any label or sale holds nothing', { after: [butterLater] }),
  {
    is: 'new labels and a maker’s confirmation open the lot again, also for a sale',
    after: [printed(), butterLater, printedAnew(), replaced, eightSold({ sentAt: '2026-05-01T18:00-04:00' })],
    state: 'released',
  },
  {
    is: 'one more label for a jar after the confirmation asks nothing again',
    after: [printed(), butterLater, printedAnew(), replaced, printedAnew({ id: 'LB3', from: '5', to: '5' })],
    state: 'released',
  },
  {
    is: 'an authority’s answer settles the jars that were sold',
    after: [printed(), eightSold(), butterLater, printedAnew(), release('relabelled; buyers called', pack, asked)],
    state: 'released',
  },
  open('the answer about bought syrup, filled in, opens what it was blended into', {
    before: [boughtSyrup({ allergens: '' })],
    pack: blended,
    after: [add('receipts', 'R001', { allergens: 'none' })],
    lot: '26078X-1',
  }),
  open('bought sap needs no answer', {
    before: [boughtSyrup({ allergens: '', density: '2 Bx', volume: '40 gal' })],
    boil: { gatherings: 'G001:120 gal;R001:40 gal' },
  }),
];
