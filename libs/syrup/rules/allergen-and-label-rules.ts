import { type DeclaredRule, practice } from './declared-rule.js';

const allergenLaw = '21 U.S.C. 321(qq), 343(w), as of 2026-09-12; Food and Drug Regulations B.01.010.1';

/** The rules about allergens, and about labels that were printed before the record changed: part of `holdRules`. */
export const allergenAndLabelRules = [
  {
    name: 'defoamer-allergens',
    title: 'Defoamer allergens',
    kind: 'stop',
    clears: 'evidence',
    missing: 'record',
    says: 'If a defoamer was used, its allergens are recorded (“none” is an answer).',
    wayOut: 'Read the label of the bottle and record the answer; “none” is an answer.',
    source: practice,
    mark: 'practice',
  },
  {
    name: 'allergen-contradiction',
    title: 'Contradictory allergen answer',
    kind: 'stop',
    // A reason can't clear it, since butter contains milk: only another answer or another defoamer name does.
    clears: 'evidence',
    says: 'No defoamer’s name points to an allergen that its answer leaves out (butter is milk, peanut oil is peanuts).',
    source: allergenLaw,
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'bought-syrup-allergens',
    title: 'Allergens of bought syrup',
    kind: 'stop',
    clears: 'evidence',
    missing: 'record',
    says: 'The allergens of bought syrup are recorded (“none” is an answer): the seller’s label declares them, or the seller was asked.',
    wayOut: 'Read the seller’s label, or ask the seller, and record the answer with the receipt; “none” is an answer.',
    source: allergenLaw,
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'undeclared-allergen',
    title: 'Undeclared allergen',
    kind: 'stop',
    clears: 'evidence',
    says: 'The labels printed for jars on hand declare every allergen recorded for their syrup, also one recorded since they were printed.',
    source: allergenLaw,
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'undeclared-allergen-sent',
    title: 'Undeclared allergen in jars sent out',
    kind: 'stop',
    clears: 'authority',
    says: 'If jars went out before their labels declared an allergen, the lot is recalled, or the authority is asked before any other jar is sent out.',
    source: 'an undeclared allergen is a usual reason for a recall: common practice, no source',
    mark: 'practice',
  },
  {
    name: 'label-net-quantity',
    title: 'Net quantity on the labels',
    kind: 'stop',
    clears: 'evidence',
    says: 'The labels printed for jars on hand state no larger net quantity than the container recorded for them.',
    source: '21 CFR 101.7(a); Safe Food for Canadians Regulations ss. 229–235',
    mark: 'read',
    readOn: '2026',
  },
  {
    name: 'labels-replaced',
    title: 'Replacement of wrong labels',
    kind: 'stop',
    clears: 'reason',
    says: 'After right labels were printed for jars whose labels were wrong, a maker recorded that the old ones were taken off.',
    source: practice,
    mark: 'practice',
  },
] as const satisfies readonly DeclaredRule[];
